import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { CardInPhoto } from '../../domain/api/photos.ts';
import type { Comparison, Outcome } from '../../domain/index.ts';
import type {
  Analyst,
  AssessmentFindings,
  AssessmentTask,
  CardTask,
  OnStage,
  PatchesTask,
} from '../../services/analysis-ports.ts';

/** A worker keeps its model and its native memory for this long without work. */
const IDLE_MS = 60_000;

/**
 * Time that a running analysis is given to notice that it should stop. A thread that is ended within native code can take the
 * whole process with it; between stages it ends by itself. The longest stage takes some ten seconds on two busy cores.
 */
const STOP_GRACE_MS = 20_000;

interface StageMessage {
  readonly stage: string;
  readonly fractionDone: number;
}

/** Analyses in threads of their own. @param workerFile module whose `default` takes `{ task, stages, halt }` */
export function piscinaAnalyst(workerFile: URL, places: number): Analyst {
  const pool = new Piscina({
    filename: workerFile.href,
    minThreads: 0,
    maxThreads: places,
    concurrentTasksPerWorker: 1,
    idleTimeout: IDLE_MS,
  });
  const running = new Set<Promise<unknown>>();
  /** 1 once analyses should stop; the threads look at it between stages. */
  const halt = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  const run = async <T>(task: AssessmentTask | PatchesTask | CardTask, onStage: OnStage): Promise<T> => {
    const { port1, port2 } = new MessageChannel();
    port1.on('message', ({ stage, fractionDone }: StageMessage) => {
      onStage(stage, fractionDone);
    });
    const work = pool.run({ task, stages: port2, halt }, { transferList: [port2] }) as Promise<T>;
    running.add(work);
    try {
      return await work;
    } finally {
      running.delete(work);
      port1.close();
    }
  };
  return {
    places,
    assess: (task, onStage) => run<Outcome<AssessmentFindings>>(task, onStage),
    comparePatches: (task, onStage) => run<Outcome<Comparison>>(task, onStage),
    lookForCard: (task) => run<Outcome<CardInPhoto>>(task, () => undefined),
    async stop() {
      Atomics.store(halt, 0, 1);
      await withinGrace(Promise.allSettled(running));
      await pool.destroy();
    },
  };
}

async function withinGrace(ending: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const grace = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, STOP_GRACE_MS);
  });
  await Promise.race([ending, grace]);
  clearTimeout(timer);
}
