export const toHexadecimal = (bytes: Uint8Array): string =>
  Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');

/** @throws RangeError for text that is not pairs of hexadecimal digits */
export function fromHexadecimal(text: string): Uint8Array {
  if (!/^(?:[0-9a-f]{2})*$/i.test(text)) throw new RangeError('Expected pairs of hexadecimal digits');
  return Uint8Array.from({ length: text.length / 2 }, (_byte, at) =>
    Number.parseInt(text.slice(2 * at, 2 * at + 2), 16),
  );
}
