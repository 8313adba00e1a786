import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Comparison, Outcome } from '../../domain/index.ts';
import type {
  Analyst,
  AssessmentFindings,
  AssessmentTask,
  OnStage,
  PatchesTask,
} from '../../services/analysis-ports.ts';

/** A worker keeps its model and its native memory for this long without work. */
const IDLE_MS = 60_000;

interface StageMessage {
  readonly stage: string;
  readonly fractionDone: number;
}

/** Analyses in threads of their own. @param workerFile module whose `default` takes `{ task, stages }` */
export function piscinaAnalyst(workerFile: URL, places: number): Analyst {
  const pool = new Piscina({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: places,
    concurrentTasksPerWorker: 1,
    idleTimeout: IDLE_MS,
  });
  const run = async <T>(task: AssessmentTask | PatchesTask, onStage: OnStage): Promise<T> => {
    const { port1, port2 } = new MessageChannel();
    port1.on('message', ({ stage, fractionDone }: StageMessage) => {
      onStage(stage, fractionDone);
    });
    try {
      return (await pool.run({ task, stages: port2 }, { transferList: [port2] })) as T;
    } finally {
      port1.close();
    }
  };
  return {
    places,
    assess: (task, onStage) => run<Outcome<AssessmentFindings>>(task, onStage),
    comparePatches: (task, onStage) => run<Outcome<Comparison>>(task, onStage),
    stop: () => pool.destroy(),
  };
}
