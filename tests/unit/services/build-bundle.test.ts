import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { newSealKeyPem, sealKeyFrom } from '../../../server/adapters/security/ed25519-key.ts';
import { zipArchive } from '../../../server/adapters/archive/zip-archive.ts';
import { buildBundle } from '../../../server/services/build-bundle.ts';
import { reprintReport } from '../../../server/services/reprint-report.ts';
import { METRIC_A4, bundleTools, verifyTools } from '../../support/evidence-tools.ts';
import type { GoldenEvidence } from '../../support/evidence-tools.ts';
import { smallEvidence } from '../../support/small-evidence.ts';

let evidence: GoldenEvidence;
let bundle: Uint8Array;
beforeAll(async () => {
  evidence = await smallEvidence();
  const built = await buildBundle(
    { sealed: evidence.sealed, look: METRIC_A4, timeStamp: null },
    bundleTools(evidence.files.values()),
  );
  if (!built.ok) throw new Error(built.fault.code);
  bundle = built.value;
});

describe('a bundle', () => {
  it('holds the record, its report, its files, how to check them, and their list', () => {
    const [{ entries }] = zipArchive().read(bundle);
    expect(entries.map(({ path }) => path)).toEqual([
      'README.txt',
      'record.json',
      'record.sig',
      'public-key.pem',
      'report.pdf',
      'photos/round-1-before.jpg',
      'class-maps/round-1-before.png',
      'photos/round-1-after.jpg',
      'class-maps/round-1-after.png',
      'card/values.json',
      'manifest.sha256',
      'manifest.sig',
    ]);
    expect(Buffer.from(entries[1].bytes).toString('utf8')).toBe(evidence.sealed.text);
  });

  it('has the same bytes each time', async () => {
    const again = await buildBundle(
      { sealed: evidence.sealed, look: METRIC_A4, timeStamp: null },
      bundleTools(evidence.files.values()),
    );
    expect(again.ok && Buffer.compare(again.value, bundle)).toBe(0);
  });

  it('is not built when a file of the record is missing or is another one', async () => {
    const request = { sealed: evidence.sealed, look: METRIC_A4, timeStamp: null };
    const missing = await buildBundle(request, bundleTools([...evidence.files.values()].slice(1)));
    expect(missing).toMatchObject({
      ok: false,
      fault: { code: 'record-file-differs', path: 'photos/round-1-before.jpg' },
    });
    const tools = bundleTools(evidence.files.values());
    const store = {
      read: async (hash: string): Promise<Uint8Array | null> => {
        const bytes = await tools.store.read(hash);
        return bytes === null ? null : Buffer.concat([bytes, Buffer.from('x')]);
      },
    };
    expect(await buildBundle(request, { ...tools, store })).toMatchObject({
      ok: false,
      fault: { code: 'record-file-differs' },
    });
  });

  it('is not built with another key than the one that sealed the record', async () => {
    const tools = { ...bundleTools(evidence.files.values()), key: sealKeyFrom(newSealKeyPem()) };
    const built = await buildBundle({ sealed: evidence.sealed, look: METRIC_A4, timeStamp: null }, tools);
    expect(built).toEqual({ ok: false, fault: { code: 'seal-key-missing' } });
  });
});

describe('printing a report again from a bundle', () => {
  const reprint = (
    bytes: Uint8Array,
    look: Parameters<typeof reprintReport>[0]['look'],
  ): ReturnType<typeof reprintReport> =>
    reprintReport({ bundle: bytes, look }, { ...verifyTools(), printer: bundleTools([]).printer });

  it('gives the very report that is in it, from nothing else', async () => {
    const report = zipArchive()
      .read(bundle)[0]
      .entries.find(({ path }) => path === 'report.pdf');
    const printed = await reprint(bundle, METRIC_A4);
    expect(printed.ok && Buffer.compare(printed.value, report?.bytes ?? new Uint8Array())).toBe(0);
  });

  it('is refused for a bundle that does not hold', async () => {
    const damaged = Uint8Array.from(bundle, (byte, at) => (at === 5000 ? byte ^ 1 : byte));
    expect(await reprint(damaged, METRIC_A4)).toMatchObject({ ok: false, fault: { code: 'record-file-differs' } });
  });
});

const hasTools = ['openssl', 'sha256sum', 'unzip'].every((tool) => spawnSync(tool, ['--help']).error === undefined);
/** Skipped where openssl, sha256sum or unzip are not installed. */
describe.skipIf(!hasTools)(
  'a bundle checked by hand as its README says (skipped without openssl, sha256sum and unzip)',
  () => {
    it('holds by the very commands of the README, and fails when a photo is altered', () => {
      const folder = mkdtempSync(join(tmpdir(), 'bareplate-bundle-'));
      try {
        writeFileSync(join(folder, 'bundle.zip'), bundle);
        const run = (command: string): { status: number | null; output: string } => {
          const result = spawnSync('bash', ['-c', command], { cwd: folder, encoding: 'utf8' });
          return { status: result.status, output: result.stdout + result.stderr };
        };
        expect(run('unzip -q bundle.zip').status).toBe(0);
        const readMe = run('cat README.txt').output;
        const commands = [...readMe.matchAll(/^ {5}((?:openssl|sha256sum) .+)$/gm)].map(([, command]) => command);
        expect(commands).toHaveLength(4);
        const outputs = commands.map(run);
        expect(outputs.map(({ status }) => status)).toEqual([0, 0, 0, 0]);
        expect(outputs[0].output.slice(0, 32)).toBe(evidence.sealed.seal.keyFingerprint);
        expect(outputs[1].output).toContain('Signature Verified Successfully');
        writeFileSync(join(folder, 'photos/round-1-after.jpg'), 'altered');
        expect(run(commands[2])).toMatchObject({
          status: 1,
          output: expect.stringContaining('photos/round-1-after.jpg: FAILED') as string,
        });
      } finally {
        rmSync(folder, { recursive: true });
      }
    });
  },
);
