import { SURFACE_CLASSES, UNIT_AREA_SIDE_MM } from '../../domain/index.ts';
import type { InspectionRecord } from '../../domain/index.ts';
import type { DecidedAnew } from '../../domain/api/corrections.ts';
import { momentWords, percent, percentWithRange } from './quantity-words.ts';
import type { QuantityWords } from './quantity-words.ts';
import type { CorrectedFinding, ReportFact, ReportPicture } from './report.ts';

/**
 * What the last round comes to with the corrections that stand, beside what was measured; null without any.
 * @param after the picture after the last round
 */
export function describeCorrected(
  record: InspectionRecord,
  after: ReportPicture,
  words: QuantityWords,
): CorrectedFinding | null {
  const last = record.rounds[record.rounds.length - 1];
  const shares = last.corrected.after;
  if (shares === null) return null;
  const { decided } = shares;
  const { correctedClassMap } = last.after;
  return {
    sentence: `Painted by hand on ${percent(shares.changedFraction)} of the zone by ${authorsOf(record, last.number)}. The figures as measured stay beside it.`,
    picture:
      correctedClassMap === null
        ? null
        : {
            ...after,
            title: 'Classes as corrected by hand',
            photo: { ...last.after, classMap: correctedClassMap },
            worstSquare: decided?.worstUnitArea ?? null,
            description: `Classes as corrected by hand: ${SURFACE_CLASSES.map((name) => `${name} ${percent(shares.fractions[name])}`).join(', ')}.`,
          },
    shares: SURFACE_CLASSES.map((name) => ({
      name,
      before: null,
      after: { share: shares.fractions[name], text: percent(shares.fractions[name]) },
    })),
    facts: decided === null ? [] : factsOf(decided, words),
    grades: (decided?.grades ?? []).map((grade) => ({
      ...grade,
      isAsked: grade.standard === record.asked.standard && grade.grade === record.asked.grade,
    })),
  };
}

/** Everybody whose correction of the round's after photo stands, with the moment of the last one. */
function authorsOf({ corrections }: InspectionRecord, number: number): string {
  const standing = corrections.filter((c) => c.round === number && c.photo === 'after' && c.withdrawn === null);
  const latest = new Map(standing.map(({ by, at }) => [by.name, at]));
  return [...latest].map(([name, at]) => `${name} (${momentWords(at)})`).join(' and ') || 'somebody who is gone';
}

function factsOf({ residue, stain, paintedFraction, worstUnitArea }: DecidedAnew, words: QuantityWords): ReportFact[] {
  const note = `measured interval, moved with the share and narrowed by the ${percent(paintedFraction)} that people spoke for`;
  const facts: ReportFact[] = [
    { label: 'Residue, corrected', value: percentWithRange(residue), note },
    { label: 'Stain, corrected', value: percentWithRange(stain) },
  ];
  if (worstUnitArea !== null) {
    const side = words.length(UNIT_AREA_SIDE_MM);
    facts.push({
      label: 'Worst square, corrected',
      value: `${percent(worstUnitArea.residueFraction)} residue, ${percent(worstUnitArea.stainFraction)} stain`,
      note: `of all squares of ${side} x ${side} on the corrected map`,
    });
  }
  return facts;
}
