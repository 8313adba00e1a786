import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { zipArchive } from '../../../../server/adapters/archive/zip-archive.ts';

const archive = zipArchive();
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const entries = [
  { path: 'README.txt', bytes: bytes('read me') },
  { path: 'photos/empty.jpg', bytes: new Uint8Array() },
  { path: 'record.json', bytes: bytes('{"a":1}') },
];

describe('the archive', () => {
  it('is read by an independent library (fflate) with the same names and bytes', () => {
    const read = unzipSync(archive.write(entries));
    expect(Object.keys(read)).toEqual(entries.map(({ path }) => path));
    for (const { path, bytes: content } of entries) expect(Buffer.from(read[path])).toEqual(Buffer.from(content));
  });

  it('comes back as it went in, without a flaw', () => {
    const [reading, ...others] = archive.read(archive.write(entries));
    expect(others).toEqual([]);
    expect(reading.flaws).toEqual([]);
    expect(reading.entries.map(({ path, bytes: content }) => [path, Buffer.from(content).toString()])).toEqual(
      entries.map(({ path, bytes: content }) => [path, Buffer.from(content).toString()]),
    );
  });

  it('has the same bytes each time, and no date of its own', () => {
    expect(archive.write(entries)).toEqual(archive.write(entries));
    // 1980-01-01 00:00:00 in the local header of the first file.
    expect(Buffer.from(archive.write(entries)).readUInt32LE(10)).toBe(0x00210000);
  });

  it('of no files is the closing record alone, and is told to be none', () => {
    expect(archive.write([])).toHaveLength(22);
    expect(archive.read(archive.write([]))[0].flaws).toHaveLength(1);
  });

  it('notices every single flipped bit', () => {
    const whole = archive.write(entries);
    for (let bit = 0; bit < 8 * whole.length; bit++) {
      const flipped = Uint8Array.from(whole);
      flipped[bit >> 3] ^= 1 << (bit & 7);
      for (const reading of archive.read(flipped)) expect(reading.flaws.length).toBeGreaterThan(0);
    }
  });

  it('notices what is put before, after or between', () => {
    const whole = Buffer.from(archive.write(entries));
    for (const at of [0, 37, 60, whole.length]) {
      const longer = Buffer.concat([whole.subarray(0, at), Buffer.from('x'), whole.subarray(at)]);
      for (const reading of archive.read(longer)) expect(reading.flaws.length).toBeGreaterThan(0);
    }
  });

  it('is not led to endless work by a directory that names one file ten thousand times', () => {
    const whole = Buffer.from(archive.write(entries));
    const start = whole.readUInt32LE(whole.length - 6);
    const entry = whole.subarray(start, start + 46 + 'README.txt'.length);
    const forged = Buffer.concat([
      whole.subarray(0, start),
      ...Array.from({ length: 10_000 }, () => entry),
      whole.subarray(-22),
    ]);
    expect(archive.read(forged)[0].flaws.length).toBeGreaterThan(0);
  });

  it('refuses names outside plain ASCII', () => {
    expect(() => archive.write([{ path: 'Prüfung.txt', bytes: bytes('x') }])).toThrow(RangeError);
  });
});
