import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { filesOfRecord, gatherBundle } from '../evidence/bundle/gather-bundle.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { SealKey } from '../evidence/ports.ts';
import type { Archive, BuildBundleRequest } from './evidence-ports.ts';
import { renderReport } from './render-report.ts';
import type { RenderReportTools } from './render-report.ts';

export interface BuildBundleTools extends RenderReportTools {
  readonly archive: Archive;
  readonly key: SealKey;
}

/** What the platform reads as one file (2 GiB) with room for the archive's headers: a bundle must be able to be verified. */
const MOST_BUNDLE_BYTES = 2_000_000_000;

/**
 * Packs a signed record with its report, photos, class maps and card values. The same request gives the same bytes. The
 * record must have been sealed with the key given: a bundle carries one key.
 */
export async function buildBundle(request: BuildBundleRequest, tools: BuildBundleTools): Promise<Outcome<Uint8Array>> {
  const { sealed, look, timeStamp } = request;
  if (sealed.seal.keyFingerprint !== tools.key.fingerprint) return failure({ code: 'seal-key-missing' });
  const opened = openRecord(JSON.parse(sealed.text));
  if (!opened.ok) return opened;
  const report = await renderReport({ text: sealed.text, seal: sealed.seal, look }, tools);
  if (!report.ok) return report;
  const evidence = new Map<string, Uint8Array>();
  for (const { path, sha256 } of filesOfRecord(opened.value)) {
    const bytes = await tools.store.read(sha256);
    if (bytes !== null) evidence.set(path, bytes);
  }
  const files = gatherBundle({ record: opened.value, sealed, report: report.value, evidence, timeStamp }, tools);
  if (!files.ok) return files;
  const sizeBytes = [...files.value.values()].reduce((sum, bytes) => sum + bytes.length, 0);
  if (sizeBytes > MOST_BUNDLE_BYTES) {
    return failure({ code: 'bundle-too-large', sizeBytes, mostBytes: MOST_BUNDLE_BYTES });
  }
  return success(tools.archive.write([...files.value].map(([path, bytes]) => ({ path, bytes }))));
}
