/** Signs at the start of a file. Source: [T81], [PNG3], [WEBP], [TIFF6], [HEIF]. */
const SIGNS: readonly (readonly [mediaType: string, offset: number, sign: string])[] = [
  ['image/jpeg', 0, 'ffd8ff'],
  ['image/png', 0, '89504e470d0a1a0a'],
  ['image/webp', 8, '57454250'],
  ['image/tiff', 0, '49492a00'],
  ['image/tiff', 0, '4d4d002a'],
  ['image/avif', 4, '6674797061766966'],
  ['image/heic', 4, '66747970'],
];

/** What kind of photo a file is, for one that has been decoded; only its first bytes are looked at. */
export function mediaTypeOf(bytes: Uint8Array): string {
  const start = Buffer.from(bytes.subarray(0, 16)).toString('hex');
  const match = SIGNS.find(([, offset, sign]) => start.startsWith(sign, 2 * offset));
  return match?.[0] ?? 'application/octet-stream';
}
