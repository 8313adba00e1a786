import { assertNever } from '@domain/assert-never.ts';
import { isSpeedFarOff } from '@domain/hand-speed.ts';
import { joinSentences } from '@domain/join-sentences.ts';
import type { Measured } from '@domain/measured.ts';
import type { Settings } from '@domain/settings.ts';
import type { Streaks } from '@domain/streaks.ts';
import { swathOverlap } from '@domain/swath-overlap.ts';
import { words } from '../../i18n/words.ts';
import type { ShownUnits } from '../../units/shown-units.ts';

type Intended = Pick<Settings, 'travelSpeedMmPerS' | 'scanWidthMm'>;

/** The streak and its cause, beside the settings where they are known, in the shop's units. */
export function streakSentence(streaks: Streaks, intended: Intended | null, units: ShownUnits): string {
  const { kind, pitchMm } = streaks;
  switch (kind) {
    case null:
      return words.answer.noStreaks;
    case 'line-pitch':
      return joinSentences(
        pitchMm === null ? '' : words.answer.streakLinePitch(units.length(pitchMm.value)),
        speedSentence(streaks, intended, units),
      );
    case 'swath-seam':
      return joinSentences(
        pitchMm === null ? words.answer.streakSeamPlain : words.answer.streakSeam(units.length(pitchMm.value)),
        swathSentence(pitchMm, intended, units),
        words.answer.streakSeamHelp,
      );
    case 'dwell-band':
      return words.answer.streakDwell;
    default:
      return assertNever(kind);
  }
}

function speedSentence({ travelSpeedMmPerS }: Streaks, intended: Intended | null, units: ShownUnits): string {
  if (travelSpeedMmPerS === null) return '';
  const real = units.speed(travelSpeedMmPerS.value);
  if (intended === null) return words.answer.streakSpeedOnly(real);
  return joinSentences(
    words.answer.streakSpeed(real, units.speed(intended.travelSpeedMmPerS)),
    isSpeedFarOff(travelSpeedMmPerS.value, intended.travelSpeedMmPerS) ? words.answer.streakSpeedFarOff : '',
  );
}

function swathSentence(pitchMm: Measured | null, intended: Intended | null, units: ShownUnits): string {
  const overlap = pitchMm === null || intended === null ? null : swathOverlap(pitchMm, intended.scanWidthMm);
  return overlap === null || intended === null
    ? ''
    : words.answer.streakSwaths[overlap.how](units.length(overlap.byMm), units.length(intended.scanWidthMm));
}
