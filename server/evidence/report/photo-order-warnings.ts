import type { InspectionRecord, PhotoTime, RecordRound } from '../../domain/index.ts';

/** Rounds whose photos were taken in the wrong order by the phones' own clocks: exchanged photos, or clocks that were off. */
export const photoOrderWarnings = ({ rounds }: InspectionRecord): string[] =>
  rounds
    .filter(isTurnedRound)
    .map(
      ({ number }) =>
        `By the phones’ clocks the photo after round ${number} was taken before the one before it: are they exchanged?`,
    );

function isTurnedRound({ before, after }: RecordRound): boolean {
  const [first, second] = [before?.takenAt ?? null, after.takenAt];
  if (first === null || second === null) return false;
  return comparableMs(second, first) < comparableMs(first, second);
}

/** Where one phone states its offset and the other does not, both are read as one clock. */
const comparableMs = (time: PhotoTime, other: PhotoTime): number =>
  Date.parse(`${time.localTime}${(other.utcOffset === null ? null : time.utcOffset) ?? 'Z'}`);
