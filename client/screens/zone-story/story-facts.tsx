import type { ReactNode } from 'react';
import type { JobZone } from '@domain/api/zones.ts';
import { words } from '../../i18n/words.ts';
import { formatMinutes } from '../../units/format-moment.ts';
import { formatShare } from '../../units/shown-units.ts';
import { useUnits } from '../../units/use-units.ts';

function leftNow(latest: JobZone['latest']): string {
  if (latest === null || latest.residue === null) return words.story.notMeasured;
  return latest.correctedResidue === null
    ? formatShare(latest.residue.value)
    : words.story.corrected(formatShare(latest.correctedResidue));
}

export function StoryFacts({ zone }: { zone: JobZone }): ReactNode {
  const units = useUnits();
  const { latest, minutesSpent, thicknessMm, areaM2, surfaceKind, targetGrade, roundCount } = zone;
  const facts: readonly (readonly [string, string])[] = [
    [words.story.leftNow, leftNow(latest)],
    [words.story.target, targetGrade ?? words.story.noTarget],
    [words.story.roundsDone, String(roundCount)],
    [words.story.minutesSpent, minutesSpent === null ? words.story.notStated : formatMinutes(minutesSpent)],
    [words.story.surface, surfaceKind === '' ? words.story.notStated : surfaceKind],
    [words.story.thickness, thicknessMm === null ? words.story.notStated : units.length(thicknessMm)],
    [words.story.area, areaM2 === null ? words.story.notStated : units.area(areaM2)],
  ];
  return (
    <dl className="facts plate">
      {facts.map(([term, fact]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{fact}</dd>
        </div>
      ))}
    </dl>
  );
}
