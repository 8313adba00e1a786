/**
 * Reads whole numbers from bytes that may lie about their length. A read past the end gives 0 and sets `isOverrun()` for
 * good, so a reader of headers checks once at its end instead of after every field; loops must stop on it.
 */
export class ByteCursor {
  readonly #bytes: Uint8Array;
  readonly #view: DataView;
  readonly end: number;
  readonly isLittleEndian: boolean;
  position: number;
  #isOverrun = false;

  constructor(bytes: Uint8Array, range: { start?: number; end?: number; isLittleEndian?: boolean } = {}) {
    this.#bytes = bytes;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.position = range.start ?? 0;
    this.end = Math.min(range.end ?? bytes.length, bytes.length);
    this.isLittleEndian = range.isLittleEndian ?? false;
  }

  isOverrun(): boolean {
    return this.#isOverrun;
  }

  get remaining(): number {
    return this.#isOverrun ? 0 : this.end - this.position;
  }

  uint8(): number {
    const at = this.#take(1);
    return at === null ? 0 : this.#view.getUint8(at);
  }

  uint16(): number {
    const at = this.#take(2);
    return at === null ? 0 : this.#view.getUint16(at, this.isLittleEndian);
  }

  uint32(): number {
    const at = this.#take(4);
    return at === null ? 0 : this.#view.getUint32(at, this.isLittleEndian);
  }

  /** Big-endian files only. Beyond 2^53 the value is rounded, which is as far outside any file as the true one. */
  uint64(): number {
    return this.uint32() * 2 ** 32 + this.uint32();
  }

  /** Whole number of 0, 1, 2, 4 or 8 bytes; 0 bytes mean an absent field of value 0. */
  uint(byteCount: number): number {
    let value = 0;
    for (let index = 0; index < byteCount; index += 1) value = value * 256 + this.uint8();
    return value;
  }

  /** Four-character code, or as many characters as asked for; bytes above 127 come out as their Latin-1 letter. */
  text(byteCount = 4): string {
    return String.fromCharCode(...this.bytes(byteCount));
  }

  bytes(byteCount: number): Uint8Array {
    const at = this.#take(byteCount);
    return at === null ? new Uint8Array(0) : this.#bytes.subarray(at, at + byteCount);
  }

  skip(byteCount: number): void {
    this.#take(byteCount);
  }

  #take(byteCount: number): number | null {
    const at = this.position;
    if (this.#isOverrun || byteCount < 0 || at < 0 || at + byteCount > this.end) {
      this.#isOverrun = true;
      return null;
    }
    this.position = at + byteCount;
    return at;
  }
}
