/** Entry of a worker thread: lets Node read TypeScript, then hands tasks on. */
import { register } from 'tsx/esm/api';

register();
const { performTask } = await import('./analysis-worker.ts');

export default performTask;
