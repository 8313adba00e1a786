import type { ReportTask } from './services/evidence-ports.ts';
import { buildBundle } from './services/build-bundle.ts';
import { renderReport } from './services/render-report.ts';
import { verifyBundle } from './services/verify-bundle.ts';
import { wireReportTools } from './wiring-report.ts';

/** What the report thread does with one task: print a report, pack a bundle, or check one. */
export async function performReportTask({ folder, task }: { folder: string; task: ReportTask }): Promise<unknown> {
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
