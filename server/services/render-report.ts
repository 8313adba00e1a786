import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { filesOfRecord } from '../evidence/bundle/gather-bundle.ts';
import { openRecord } from '../evidence/open-record.ts';
import type { Sha256 } from '../evidence/ports.ts';
import { buildReport } from '../evidence/report/build-report.ts';
import type { EvidenceStore, RenderReportRequest, ReportPrinter } from './evidence-ports.ts';

export interface RenderReportTools {
  readonly store: EvidenceStore;
  readonly printer: ReportPrinter;
  readonly sha256: Sha256;
}

/** Prints the report of a record from the record itself and the files that it names, and nothing else. */
export async function renderReport(
  { text, seal, look }: RenderReportRequest,
  { store, printer, sha256 }: RenderReportTools,
): Promise<Outcome<Uint8Array>> {
  const opened = openRecord(JSON.parse(text));
  if (!opened.ok) return opened;
  const record = opened.value;
  const files = new Map<string, Uint8Array>();
  for (const { path, sha256: hash } of filesOfRecord(record)) {
    const bytes = await store.read(hash);
    if (bytes === null) return failure({ code: 'record-file-differs', path, detail: 'it is missing' });
    files.set(path, bytes);
  }
  const recordSha256 = sha256(new TextEncoder().encode(text));
  const report = buildReport(record, { units: look.units, seal, recordSha256, recordAddress: look.recordAddress });
  return success(await printer.print({ report, paper: look.paper, recordText: text, files }));
}
