import type { PrintRequest, VerifyRequest } from './services/evidence-ports.ts';
import { verifyBundle } from './services/verify-bundle.ts';
import { wireTools } from './wiring.ts';

const tools = wireTools();

/** What the report thread does with one task: print a report, or check a bundle. */
export async function performReportTask(
  task: { readonly print: PrintRequest } | { readonly verify: VerifyRequest },
): Promise<unknown> {
  return 'print' in task ? tools.printer.print(task.print) : verifyBundle(task.verify, tools);
}
