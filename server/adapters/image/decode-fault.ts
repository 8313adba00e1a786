import type { Fault } from '../../domain/index.ts';

const LONGEST_DETAIL = 120;

/** Causes that a codec library names in its message; anything else is damage that the headers did not show. */
const CAUSES: readonly (readonly [message: RegExp, fault: (message: string) => Fault])[] = [
  [/icc|profile/i, (detail) => ({ code: 'photo-icc-broken', detail })],
  [
    /unsupported jpeg process|omitted at compile time/i,
    () => ({ code: 'photo-wrong-type', found: 'a JPEG of a rare coding process' }),
  ],
  [/no known route/i, () => ({ code: 'photo-colour-model', found: 'samples without a known colour space' })],
];

/** Turns what a codec library threw into the fault that tells the operator what to do. */
export function faultOfDecodeError(error: unknown): Fault {
  const message = error instanceof Error ? error.message : String(error);
  const detail = shortDetail(message);
  const known = CAUSES.find(([pattern]) => pattern.test(message));
  return known === undefined ? { code: 'photo-truncated', detail } : known[1](detail);
}

/** First line that says something, without the library's preamble. */
function shortDetail(message: string): string {
  const lines = message.replace('Input buffer has corrupt header:', '').split('\n');
  const line = (lines.find((candidate) => candidate.trim() !== '') ?? 'no reason given').trim();
  const plain = line.replaceAll(/[^ -~]/g, '?');
  return plain.length > LONGEST_DETAIL ? `${plain.slice(0, LONGEST_DETAIL - 3)}...` : plain;
}
