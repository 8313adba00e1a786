import type { ReportTask } from './services/evidence-ports.ts';
import { buildBundle } from './services/build-bundle.ts';
import { renderReport } from './services/render-report.ts';
import { verifyBundle } from './services/verify-bundle.ts';
import { checkAuditLog, wireReportTools } from './wiring-report.ts';

/** What the report thread does with one task: print a report, pack a bundle, check one, or follow the audit log. */
export async function performReportTask({ folder, task }: { folder: string; task: ReportTask }): Promise<unknown> {
  if (task.kind === 'audit') return checkAuditLog(folder);
  const tools = await wireReportTools(folder);
  switch (task.kind) {
    case 'report':
      return renderReport(task.request, tools);
    case 'bundle':
      return buildBundle(task.request, tools);
    case 'verify':
      return verifyBundle(task.request, tools);
  }
}
