import { assertNever, isSpeedFarOff, joinSentences, swathOverlap } from '../domain/index.ts';
import type { Measured, Streaks } from '../domain/index.ts';
import type { LineAsSet } from './line-as-set.ts';
import type { StreakDoubt, StreakExplanation } from './streaks/streak-finding.ts';

/** Beyond this ratio between measured and intended speed the hand, not the dial, is the cause. */
const SPEED_OFF = 1.15;

/** What was found, what made it, and what helps; or why nothing is called a streak. */
export function explainStreaks(
  streaks: Omit<Streaks, 'because'>,
  explanation: StreakExplanation,
  line: LineAsSet,
): string {
  if (!streaks.found || streaks.kind === null) return whyNone(explanation);
  const contrast = `${streaks.contrastDeltaE00.toFixed(1)} CIEDE2000 against the ground beside them`;
  const share = `${(100 * streaks.affectedFraction).toFixed(0)} % of the zone`;
  switch (streaks.kind) {
    case 'line-pitch':
      return joinSentences(
        `Even stripes ${pitchWords(streaks.pitchMm)}apart, ${contrast}, on ${share}: the lines of single strokes lie too far apart, so the beam was not long enough on the metal between them.`,
        speedWords(streaks.travelSpeedMmPerS, line),
        'Slower travel or more strokes per second brings the lines together.',
      );
    case 'swath-seam':
      return joinSentences(
        `Seams ${pitchWords(streaks.pitchMm)}apart, ${contrast}, on ${share}: neighbouring swaths do not meet or only just, and the mirror turns at the edges.`,
        swathWords(streaks.pitchMm, line),
        'Overlap the swaths more.',
      );
    case 'dwell-band':
      return `Uneven bands, ${contrast}, on ${share}: the hand sped up there, so the beam was not long enough on the metal. Keep the travel even, or go over the bands again.`;
    default:
      return assertNever(streaks.kind);
  }
}

/** Narrower than this, an interval needs hundredths to show its width. */
const NARROW_MM = 0.2;

function pitchWords(pitch: Measured | null): string {
  if (pitch === null) return '';
  const { value, low, high } = pitch;
  const mm = (length: number): string => length.toFixed(high - low < NARROW_MM ? 2 : 1);
  return `${mm(value)} mm (${mm(low)} to ${mm(high)} mm) `;
}

function speedWords(speed: Measured | null, { settings, strokesPerCycle }: LineAsSet): string {
  if (speed === null || settings === null) return '';
  const strokes = settings.scanFrequencyHz * strokesPerCycle;
  const ratio = speed.value / settings.travelSpeedMmPerS;
  const measuredWords = `At ${strokes.toFixed(0)} strokes per second that spacing is a travel of ${speed.value.toFixed(0)} mm/s (${speed.low.toFixed(0)} to ${speed.high.toFixed(0)} mm/s)`;
  const intended = `${settings.travelSpeedMmPerS.toFixed(0)} mm/s intended`;
  const farOff = isSpeedFarOff(speed.value, settings.travelSpeedMmPerS)
    ? ' That is far off: were the settings noted as they stood?'
    : '';
  if (ratio > SPEED_OFF) return `${measuredWords}, faster than the ${intended}.${farOff}`;
  if (ratio < 1 / SPEED_OFF) return `${measuredWords}, slower than the ${intended}.${farOff}`;
  return `${measuredWords}, as good as the ${intended}: the settings themselves leave these lines.`;
}

function swathWords(pitch: Measured | null, { settings }: LineAsSet): string {
  const overlap = pitch === null || settings === null ? null : swathOverlap(pitch, settings.scanWidthMm);
  if (overlap === null || settings === null) return '';
  const line = `The line is ${settings.scanWidthMm.toFixed(0)} mm wide:`;
  const by = overlap.byMm.toFixed(0);
  switch (overlap.how) {
    case 'apart':
      return `${line} about ${by} mm between swaths stay untouched.`;
    case 'overlapping':
      return `${line} swaths overlap by about ${by} mm.`;
    case 'edge to edge':
      return `${line} swaths are laid about as far apart as that.`;
    default:
      return assertNever(overlap.how);
  }
}

function whyNone({ doubt, unresolved, expectedPitchMm }: StreakExplanation): string {
  const first = doubt === null ? 'No streaks were found.' : `No streaks are reported: ${doubtWords(doubt)}.`;
  if (unresolved === null) return first;
  const pitch = expectedPitchMm === null ? '' : ` of ${expectedPitchMm.toFixed(1)} mm`;
  return `${first} The settings lead to a line pitch${pitch} that is finer than this photo shows, so lines of that pitch can be neither seen nor ruled out.`;
}

function doubtWords(doubt: StreakDoubt): string {
  switch (doubt) {
    case 'nothing-runs-through':
      return 'nothing runs through the zone in one direction';
    case 'not-clear-of-texture':
      return 'lines that show are no clearer than grinding, rolling or clouding could make them';
    case 'one-sided-step':
      return 'one side is darker than the other, which looks like the edge of a shadow or of a plate';
    case 'single-neutral-line':
      return 'a single line without colour of its own looks like a shadow or a joint';
    case 'looks-like-weld':
      return 'the ripples look like a weld';
    default:
      return assertNever(doubt);
  }
}
