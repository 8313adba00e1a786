import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { zipArchive } from '../../server/adapters/archive/zip-archive.ts';
import { sha256 } from '../../server/adapters/security/sha256.ts';
import { readManifest, writeManifest } from '../../server/evidence/bundle/manifest.ts';

const archive = zipArchive();
const entry = fc.record({
  path: fc.stringMatching(/^[a-z]{1,8}(\/[a-z0-9-]{1,8})?\.[a-z]{3}$/),
  bytes: fc.uint8Array({ maxLength: 200 }),
});
const files = fc.uniqueArray(entry, { minLength: 1, maxLength: 6, selector: ({ path }) => path });

describe('any set of files', () => {
  it('comes out of the archive as it went in', () => {
    fc.assert(
      fc.property(files, (entries) => {
        const [reading] = archive.read(archive.write(entries));
        expect(reading.flaws).toEqual([]);
        expect(reading.entries.map(({ path, bytes }) => [path, [...bytes]])).toEqual(
          entries.map(({ path, bytes }) => [path, [...bytes]]),
        );
      }),
      { seed: 5 },
    );
  });

  it('is found to be damaged by any one changed byte of the archive', () => {
    fc.assert(
      fc.property(files, fc.nat(), fc.integer({ min: 1, max: 255 }), (entries, at, mask) => {
        const whole = archive.write(entries);
        const damaged = Uint8Array.from(whole);
        damaged[at % whole.length] ^= mask;
        for (const reading of archive.read(damaged)) expect(reading.flaws).not.toEqual([]);
      }),
      { seed: 6, numRuns: 300 },
    );
  });

  it('has a list that does not depend on their order and reads back', () => {
    fc.assert(
      fc.property(files, (entries) => {
        const map = new Map(entries.map(({ path, bytes }) => [path, bytes]));
        const turned = new Map([...map].reverse());
        expect(writeManifest(turned, sha256)).toBe(writeManifest(map, sha256));
        expect(readManifest(writeManifest(map, sha256))).toEqual(
          new Map([...map].map(([path, bytes]) => [path, sha256(bytes)])),
        );
      }),
      { seed: 7 },
    );
  });
});
