import { beforeAll, describe, expect, it } from 'vitest';
import { randomStream } from '../../../fixtures/index.ts';
import { goldenTimeStamp } from '../../../fixtures/golden-records.ts';
import { layOutZip } from '../../../server/adapters/archive/zip-layout.ts';
import { zipArchive } from '../../../server/adapters/archive/zip-archive.ts';
import { newSealKeyPem, sealKeyFrom } from '../../../server/adapters/security/ed25519-key.ts';
import { verificationSchema } from '../../../server/domain/index.ts';
import type { Verification } from '../../../server/domain/index.ts';
import type { ArchiveEntry } from '../../../server/services/evidence-ports.ts';
import { sealText } from '../../../server/evidence/seal.ts';
import { buildBundle } from '../../../server/services/build-bundle.ts';
import { verifyBundle } from '../../../server/services/verify-bundle.ts';
import { METRIC_A4, TEST_KEY, bundleTools, goldenEvidence, verifyTools } from '../../support/evidence-tools.ts';
import { smallEvidence } from '../../support/small-evidence.ts';

const archive = zipArchive();
const tools = verifyTools();
const verify = (bundle: Uint8Array, knownFingerprint: string | null = null, timeStampRoots = ''): Verification =>
  verifyBundle({ bundle, knownFingerprint, timeStampRoots }, tools);
const namedBy = ({ problems }: Verification): string[] => [...new Set(problems.map(({ path }) => path))].sort();

let bundle: Uint8Array;
let entries: readonly ArchiveEntry[];

beforeAll(async () => {
  const { sealed, files } = await smallEvidence();
  const built = await buildBundle({ sealed, look: METRIC_A4, timeStamp: null }, bundleTools(files.values()));
  if (!built.ok) throw new Error(built.fault.code);
  bundle = built.value;
  [{ entries }] = archive.read(bundle);
});

const replace = (path: string, bytes: Uint8Array): ArchiveEntry[] =>
  entries.map((entry) => (entry.path === path ? { path, bytes } : entry));
const bytesOf = (path: string): Uint8Array => {
  const found = entries.find((entry) => entry.path === path);
  if (found === undefined) throw new Error(`Expected ${path} in the bundle`);
  return found.bytes;
};
const text = (words: string): Uint8Array => new TextEncoder().encode(words);
const words = (path: string): string => new TextDecoder().decode(bytesOf(path));
function flipped(bytes: Uint8Array, at: number, mask: number): Uint8Array {
  const copy = Uint8Array.from(bytes);
  copy[at] ^= mask;
  return copy;
}

describe('an untouched bundle', () => {
  it('holds, and names the record, its signer and the key', () => {
    const finding = verificationSchema.parse(verify(bundle));
    expect(finding.problems).toEqual([]);
    expect(finding.holds).toBe(true);
    expect(finding.record).toMatchObject({
      verdict: 'rejected',
      signerName: 'Ida Wren',
      signerRole: 'inspector',
      isInvented: true,
    });
    expect(finding.key).toEqual({ fingerprint: TEST_KEY.fingerprint, isKnown: false });
    expect(finding.remarks.join(' ')).toContain('taken from the bundle itself');
  });

  it('holds against the fingerprint on paper, with or without its gaps', () => {
    const spaced = TEST_KEY.fingerprint.replace(/(.{4})/g, '$1 ').toUpperCase();
    expect(verify(bundle, spaced)).toMatchObject({ holds: true, key: { isKnown: true }, remarks: [] });
  });

  it('does not hold against another key', () => {
    expect(verify(bundle, '0'.repeat(32)).problems.map(({ code }) => code)).toEqual(['key-not-trusted']);
  });
});

describe('a bundle with one byte flipped', () => {
  it('is refused and names the very file, whichever of its bytes it is (600 flips of files packed again)', () => {
    const stream = randomStream(8032);
    for (let turn = 0; turn < 600; turn++) {
      const { path, bytes } = entries[turn % entries.length];
      const at = Math.floor(stream.next() * bytes.length);
      const changed = flipped(bytes, at, 1 << Math.floor(stream.next() * 8));
      const finding = verify(archive.write(replace(path, changed)));
      expect({ turn, path, at, holds: finding.holds, named: namedBy(finding) }).toEqual({
        turn,
        path,
        at,
        holds: false,
        named: [path],
      });
    }
  }, 120_000);

  it('is refused and names the file or part of the archive that the byte belongs to (600 flips of the zip)', () => {
    const parts = layOutZip(entries);
    const starts = parts.map((_part, at) => parts.slice(0, at).reduce((sum, { bytes }) => sum + bytes.length, 0));
    const stream = randomStream(8785);
    for (let turn = 0; turn < 600; turn++) {
      // Every second flip hits a header or the directory, which are small beside the files.
      const pool = parts.map((_part, at) => at).filter((at) => turn % 2 === 0 || parts[at].what !== 'content');
      const which = pool[Math.floor(stream.next() * pool.length)];
      const { path, what, bytes } = parts[which];
      const at = Math.floor(stream.next() * bytes.length);
      const finding = verify(flipped(bundle, starts[which] + at, 1 << Math.floor(stream.next() * 8)));
      expect({ turn, path, what, at, holds: finding.holds, isNamed: namedBy(finding).includes(path) }).toEqual({
        turn,
        path,
        what,
        at,
        holds: false,
        isNamed: true,
      });
    }
  }, 120_000);
});

describe('a bundle that somebody changed with care', () => {
  it('names a photo that was taken out', () => {
    const path = 'photos/round-1-after.jpg';
    const finding = verify(archive.write(entries.filter((entry) => entry.path !== path)));
    expect(namedBy(finding)).toEqual([path]);
    expect(finding.problems[0].code).toBe('file-missing');
  });

  it('names both photos that were swapped', () => {
    const [before, after] = ['photos/round-1-before.jpg', 'photos/round-1-after.jpg'];
    const swapped = entries.map((entry) =>
      entry.path === before
        ? { path: before, bytes: bytesOf(after) }
        : entry.path === after
          ? { path: after, bytes: bytesOf(before) }
          : entry,
    );
    expect(namedBy(verify(archive.write(swapped)))).toEqual([after, before]);
  });

  it('names a file that was put in', () => {
    const finding = verify(archive.write([...entries, { path: 'photos/extra.jpg', bytes: text('x') }]));
    expect(finding.problems.map(({ code, path }) => [code, path])).toEqual([['file-not-listed', 'photos/extra.jpg']]);
  });

  it('names a name that stands in the archive twice', () => {
    const finding = verify(archive.write([...entries, { path: 'record.json', bytes: bytesOf('record.json') }]));
    expect(finding.holds).toBe(false);
    expect(namedBy(finding)).toContain('record.json');
  });

  it('is not deceived by a list that was written anew for an altered photo', () => {
    const path = 'photos/round-1-after.jpg';
    const changed = flipped(bytesOf(path), 1000, 1);
    const hash = tools.sha256(changed);
    const manifest = words('manifest.sha256').replace(/[0-9a-f]{64}(?= {2}photos\/round-1-after\.jpg)/, hash);
    const forged = replace(path, changed).map((entry) =>
      entry.path === 'manifest.sha256' ? { path: entry.path, bytes: text(manifest) } : entry,
    );
    const finding = verify(archive.write(forged));
    expect(namedBy(finding)).toEqual(['manifest.sig', path]);
  });

  it('names the key of a forger who signed everything anew, but only to a reader who knows the shop’s fingerprint', async () => {
    const forger = sealKeyFrom(newSealKeyPem());
    const small = await smallEvidence();
    const sealed = sealText(small.sealed.text.replace('rejected', 'accepted'), { key: forger, sha256: tools.sha256 });
    const forged = await buildBundle(
      { sealed, look: METRIC_A4, timeStamp: null },
      { ...bundleTools(small.files.values()), key: forger },
    );
    if (!forged.ok) throw new Error(forged.fault.code);
    expect(verify(forged.value)).toMatchObject({ holds: true, key: { isKnown: false } });
    expect(verify(forged.value, TEST_KEY.fingerprint).problems).toMatchObject([
      { code: 'key-not-trusted', path: 'public-key.pem' },
    ]);
  });

  it('names bytes that follow the archive', () => {
    const finding = verify(Buffer.concat([bundle, text('more')]));
    expect(finding.holds).toBe(false);
  });
});

describe('what is no bundle', () => {
  it.each([
    ['nothing', new Uint8Array()],
    ['text', text('not a zip')],
    ['a cut archive', null],
  ])('is refused: %s', (_what, given) => {
    const finding = verify(given ?? bundle.subarray(0, bundle.length / 2));
    expect(finding.holds).toBe(false);
    expect(finding.problems.length).toBeGreaterThan(0);
  });
});

describe('a bundle with a time stamp', () => {
  it('holds, tells the moment and the authority, and names the stamp when it belongs to another record', async () => {
    const { reply, rootPem } = goldenTimeStamp();
    const rudder = goldenEvidence('rudder-stock');
    const stamped = await buildBundle(
      { sealed: rudder.sealed, look: METRIC_A4, timeStamp: reply },
      bundleTools(rudder.files.values()),
    );
    if (!stamped.ok) throw new Error(stamped.fault.code);
    const finding = verify(stamped.value, null, rootPem);
    expect(finding.problems).toEqual([]);
    expect(finding.timeStamp).toMatchObject({
      authority: 'Teasel test time stamps (invented)',
      isAuthorityTrusted: true,
    });

    const small = await smallEvidence();
    const wrong = await buildBundle(
      { sealed: small.sealed, look: METRIC_A4, timeStamp: reply },
      bundleTools(small.files.values()),
    );
    if (!wrong.ok) throw new Error(wrong.fault.code);
    expect(verify(wrong.value).problems).toMatchObject([{ code: 'time-stamp-wrong', path: 'time-stamp.tsr' }]);
  });
});
