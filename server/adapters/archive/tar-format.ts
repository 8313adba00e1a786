/** Blocks of a tar file, bytes. Source: [POSIX-USTAR]. */
export const BLOCK = 512;
const NAME_BYTES = 100;
const CHECKSUM_AT = 148;

export interface TarEntry {
  readonly name: string;
  readonly sizeBytes: number;
}

/** Header of a plain file that only its owner reads; same name and size, same bytes. Source: [POSIX-USTAR]. */
export function tarHeader({ name, sizeBytes }: TarEntry): Uint8Array {
  const header = Buffer.alloc(BLOCK);
  if (Buffer.byteLength(name) > NAME_BYTES) {
    throw new RangeError(`Expected a name of ${NAME_BYTES} bytes at most: ${name}`);
  }
  header.write(name, 0, 'utf8');
  const octal = (value: number, at: number, digits: number): void => {
    header.write(value.toString(8).padStart(digits, '0'), at, 'ascii');
  };
  octal(0o600, 100, 7);
  octal(0, 108, 7);
  octal(0, 116, 7);
  octal(sizeBytes, 124, 11);
  octal(0, 136, 11);
  header.write('0', 156, 'ascii');
  header.write('ustar\0', 257, 'ascii');
  header.write('00', 263, 'ascii');
  octal(checksumOf(header), CHECKSUM_AT, 6);
  header.write('\0 ', CHECKSUM_AT + 6, 'ascii');
  return header;
}

export type TarBlock = { readonly kind: 'file'; readonly entry: TarEntry } | { readonly kind: 'end' | 'broken' };

export function readTarHeader(block: Uint8Array): TarBlock {
  const header = Buffer.from(block);
  if (header.every((byte) => byte === 0)) return { kind: 'end' };
  const octal = (at: number, length: number): number =>
    Number.parseInt(header.toString('ascii', at, at + length).replace(/[\0 ].*$/s, ''), 8);
  const sizeBytes = octal(124, 12);
  if (octal(CHECKSUM_AT, 8) !== checksumOf(header) || !Number.isSafeInteger(sizeBytes)) return { kind: 'broken' };
  const name = header.toString('utf8', 0, NAME_BYTES).replace(/\0.*$/s, '');
  return header.toString('ascii', 156, 157) === '0' ? { kind: 'file', entry: { name, sizeBytes } } : { kind: 'broken' };
}

/** Sum of all bytes, the checksum's own field taken as spaces. */
function checksumOf(header: Buffer): number {
  let sum = 0;
  for (let at = 0; at < BLOCK; at++) sum += at >= CHECKSUM_AT && at < CHECKSUM_AT + 8 ? 32 : header[at];
  return sum;
}

/** Bytes that fill the last block. */
export const paddingOf = (sizeBytes: number): number => (BLOCK - (sizeBytes % BLOCK)) % BLOCK;
