/** One value of the distinguished encoding rules, with where it stands. Source: [X690], from memory. */
export interface DerNode {
  readonly tag: number;
  /** Tag, length and content. */
  readonly whole: Uint8Array;
  readonly content: Uint8Array;
}

export const TAG = {
  integer: 0x02,
  octets: 0x04,
  oid: 0x06,
  time: 0x18,
  sequence: 0x30,
  set: 0x31,
  context0: 0xa0,
} as const;

/** What is not in the form it must have; caught where a reply is judged. */
export class DerError extends Error {}

/** Reads all values that stand side by side. @throws DerError */
export function readDer(bytes: Uint8Array): DerNode[] {
  const nodes: DerNode[] = [];
  for (let at = 0; at < bytes.length;) {
    const node = readNode(bytes.subarray(at));
    nodes.push(node);
    at += node.whole.length;
  }
  return nodes;
}

const MOST_LENGTH_BYTES = 4;

function readNode(bytes: Uint8Array): DerNode {
  if (bytes.length < 2) throw new DerError('the data end within a value');
  const first = bytes[1];
  const lengthBytes = first < 0x80 ? 0 : first & 0x7f;
  if (first === 0x80 || lengthBytes > MOST_LENGTH_BYTES) {
    throw new DerError('a length is not in the distinguished form');
  }
  let length = lengthBytes === 0 ? first : 0;
  for (const byte of bytes.subarray(2, 2 + lengthBytes)) length = 256 * length + byte;
  const start = 2 + lengthBytes;
  if (start + length > bytes.length) throw new DerError('the data end within a value');
  return { tag: bytes[0], whole: bytes.subarray(0, start + length), content: bytes.subarray(start, start + length) };
}

/** The values within a value of the expected kind. @throws DerError */
export function within(node: DerNode | undefined, tag: number, what: string): DerNode[] {
  return readDer(expectTag(node, tag, what).content);
}

/** @throws DerError */
export function expectTag(node: DerNode | undefined, tag: number, what: string): DerNode {
  if (node?.tag !== tag) throw new DerError(`${what} is missing`);
  return node;
}

export function writeDer(tag: number, ...contents: readonly Uint8Array[]): Uint8Array {
  const content = Buffer.concat(contents);
  const size: number[] = [];
  for (let rest = content.length; rest > 0; rest = Math.floor(rest / 256)) size.unshift(rest % 256);
  const length = content.length < 0x80 ? [content.length] : [0x80 | size.length, ...size];
  return Buffer.concat([Uint8Array.of(tag, ...length), content]);
}

/** A whole number of 0 or more, given as its bytes. */
export function writeInteger(bytes: Uint8Array): Uint8Array {
  let start = 0;
  while (start < bytes.length - 1 && bytes[start] === 0) start++;
  const magnitude = bytes.subarray(start);
  return magnitude[0] >= 0x80 ? writeDer(TAG.integer, Uint8Array.of(0), magnitude) : writeDer(TAG.integer, magnitude);
}

/** Object identifier by its numbers, e.g. "1.2.840". */
export function writeOid(name: string): Uint8Array {
  const [first, second, ...rest] = name.split('.').map(Number);
  const bytes = [40 * first + second, ...rest].flatMap((arc) => {
    const digits = [arc % 128];
    for (let left = Math.floor(arc / 128); left > 0; left = Math.floor(left / 128)) digits.unshift(128 + (left % 128));
    return digits;
  });
  return writeDer(TAG.oid, Uint8Array.from(bytes));
}
