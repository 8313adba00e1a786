import type { PhotoTime, RecordPhoto } from '../../domain/index.ts';
import { dayWords, momentWords } from './quantity-words.ts';

const MS_PER_MINUTE = 60_000;
/** Phones set their clocks by the network; more than this is no rounding. Common practice. */
const NOTABLE_MINUTES = 10;

/** By whose clock a photo was taken and received; a phone's clock that cannot be right is said so. */
export function describePhotoTime({
  takenAt,
  receivedAt,
}: Pick<RecordPhoto, 'takenAt' | 'receivedAt'>): [taken: string, ...received: string[]] {
  const taken = takenAt === null ? 'when it was taken is not known from the file' : takenWords(takenAt);
  if (receivedAt === null) return [taken];
  const ahead = takenAt === null ? null : minutesAhead(takenAt, receivedAt);
  const doubt =
    ahead !== null && ahead > NOTABLE_MINUTES ? '; the phone’s clock was ahead of that: doubt its time' : '';
  return [taken, `received ${momentWords(receivedAt)}${doubt}`];
}

function takenWords({ localTime, utcOffset }: PhotoTime): string {
  const clock = `${dayWords(localTime.slice(0, 10))}, ${localTime.slice(11, 16)}`;
  const offset = utcOffset === null ? 'offset from UTC not stated' : `UTC${utcOffset.replace('-', '−')}`;
  return `taken ${clock} by the phone’s clock (${offset})`;
}

/** Minutes that the phone's clock said later than the file was received; null where the phone states no offset. */
function minutesAhead({ localTime, utcOffset }: PhotoTime, receivedAt: string): number | null {
  if (utcOffset === null) return null;
  return (Date.parse(`${localTime}${utcOffset}`) - Date.parse(receivedAt)) / MS_PER_MINUTE;
}
