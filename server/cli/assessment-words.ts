import type { Assessment, Measured, Suggestion, Surface } from '../domain/index.ts';

/** One assessment as an operator would tell it, line by line. */
export function assessmentWords(assessment: Assessment): string {
  const { before, after, removed, streaks, grades, advice, warnings } = assessment;
  return [
    ...(before === null ? [] : [`Before: residue ${range(before.residue)} of the zone.`]),
    `Now: residue ${range(after.residue)}${zoneWords(assessment)}; ${classWords(after)}.`,
    ...(removed === null ? [] : [`Removed: ${range(removed)} of what was there.`]),
    ...worstWords(after),
    ...(streaks.because === undefined ? [] : [streaks.because]),
    'Grades, by looks:',
    ...grades.map(
      ({ standard, grade, decision, because }) => `  ${decision.padEnd(15)}${standard} ${grade}: ${because}`,
    ),
    ...adviceWords(advice),
    ...warnings.map(({ message }) => `Note: ${message}`),
  ].join('\n');
}

const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
const range = ({ value, low, high }: Measured): string => `${percent(value)} (${percent(low)} to ${percent(high)})`;

const zoneWords = ({ zone }: Assessment): string =>
  zone.areaMm2 === null ? '' : ` of ${(zone.areaMm2 / 100).toFixed(0)} cm2`;

function classWords({ fractions }: Surface): string {
  return Object.entries(fractions)
    .map(([name, share]) => `${name} ${percent(share.value)}`)
    .join(', ');
}

function worstWords({ worstUnitArea: worst }: Surface): string[] {
  if (worst === null) return [];
  const [x, y] = worst.centreMm;
  return [
    `Worst ${worst.sideMm} mm square: residue ${percent(worst.residueFraction)}, centred ${offset(x, 'right of', 'left of')} and ${offset(y, 'below', 'above')} the card's top left corner.`,
  ];
}

const offset = (mm: number, positive: string, negative: string): string =>
  `${Math.abs(mm).toFixed(0)} mm ${mm < 0 ? negative : positive}`;

function adviceWords(advice: Assessment['advice']): string[] {
  if (advice === null) return [];
  const [best, ...others] = advice.suggestions;
  const because = advice.because === undefined ? '' : ` ${advice.because}`;
  return [
    `Advice: ${advice.verdict}.${because}`,
    ...(advice.suggestions.length === 0 ? [] : [`  Next: ${suggestionWords(best)}`, `  ${best.why}`]),
    ...others.slice(0, 2).map((other) => `  Or: ${suggestionWords(other)}`),
    ...(advice.suggestions.length === 0 ? [] : best.cautions.map((caution) => `  Caution: ${caution}`)),
  ];
}

function suggestionWords({ lever, settings, predicted, minutesPerSquareMetre }: Suggestion): string {
  const { powerW, scanWidthMm, scanFrequencyHz, travelSpeedMmPerS, passes } = settings;
  return `${lever}: ${powerW} W, ${scanWidthMm} mm wide, ${scanFrequencyHz} Hz, ${travelSpeedMmPerS} mm/s, ${passes} ${passes === 1 ? 'pass' : 'passes'}; ${minutesPerSquareMetre.toFixed(1)} min/m2, residue then ${range(predicted)}`;
}
