import { assertNever } from '@domain/assert-never.ts';
import type { Streaks } from '@domain/streaks.ts';
import { words } from '../../i18n/words.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

/**
 * The streak and its cause, in the shop's units.
 *
 * @param intendedMmPerS travel speed that was set, when settings are known
 */
export function streakSentence(streaks: Streaks, intendedMmPerS: number | null, units: ShownUnits): string {
  const { kind, pitchMm } = streaks;
  switch (kind) {
    case null:
      return words.answer.noStreaks;
    case 'line-pitch':
      return [
        pitchMm === null ? '' : words.answer.streakLinePitch(units.length(pitchMm.value)),
        speedSentence(streaks, intendedMmPerS, units),
      ]
        .filter((part) => part !== '')
        .join(' ');
    case 'swath-seam':
      return pitchMm === null ? words.answer.streakSeamPlain : words.answer.streakSeam(units.length(pitchMm.value));
    case 'dwell-band':
      return words.answer.streakDwell;
    default:
      return assertNever(kind);
  }
}

function speedSentence({ travelSpeedMmPerS }: Streaks, intendedMmPerS: number | null, units: ShownUnits): string {
  if (travelSpeedMmPerS === null) return '';
  const real = units.speed(travelSpeedMmPerS.value);
  return intendedMmPerS === null
    ? words.answer.streakSpeedOnly(real)
    : words.answer.streakSpeed(real, units.speed(intendedMmPerS));
}
