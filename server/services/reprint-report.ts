import { failure } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { BUNDLE } from '../evidence/bundle/bundle-names.ts';
import { toHexadecimal } from '../evidence/hexadecimal.ts';
import type { ReportLook } from './evidence-ports.ts';
import { renderReport } from './render-report.ts';
import type { RenderReportTools } from './render-report.ts';
import { verifyBundle } from './verify-bundle.ts';
import type { VerifyTools } from './verify-bundle.ts';

export type ReprintTools = VerifyTools & Pick<RenderReportTools, 'printer'>;

export interface ReprintRequest {
  readonly bundle: Uint8Array;
  readonly look: ReportLook;
}

/** Prints the report from nothing but a bundle; one that does not hold is refused. */
export async function reprintReport(
  { bundle, look }: ReprintRequest,
  tools: ReprintTools,
): Promise<Outcome<Uint8Array>> {
  const finding = verifyBundle({ bundle, knownFingerprint: null, timeStampRoots: '' }, tools);
  if (!finding.holds) {
    const [first] = finding.problems;
    return failure({ code: 'record-file-differs', path: first.path, detail: first.message });
  }
  const [{ entries }] = tools.archive.read(bundle);
  const files = new Map(entries.map(({ path, bytes }) => [path, bytes]));
  const byHash = new Map(entries.map(({ bytes }) => [tools.sha256(bytes), bytes]));
  const text = (path: string): string => new TextDecoder().decode(files.get(path));
  return renderReport(
    {
      text: text(BUNDLE.record),
      seal: {
        algorithm: 'Ed25519',
        recordSha256: finding.record?.sha256 ?? '',
        keyFingerprint: finding.key?.fingerprint ?? '',
        publicKeyPem: text(BUNDLE.publicKey),
        signature: toHexadecimal(files.get(BUNDLE.recordSignature) ?? new Uint8Array()),
      },
      look,
    },
    { ...tools, store: { read: (hash) => Promise.resolve(byHash.get(hash) ?? null) } },
  );
}
