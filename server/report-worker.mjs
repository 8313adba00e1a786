/** Entry of a worker thread: lets Node read TypeScript, then hands tasks on. */
import { register } from 'tsx/esm/api';

register();
const { performReportTask } = await import('./report-worker.ts');

export default performReportTask;
