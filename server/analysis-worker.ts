import type { MessagePort } from 'node:worker_threads';
import { analyseRound } from './services/analyse-round.ts';
import type { AssessmentTask, CardTask, PatchesTask } from './services/analysis-ports.ts';
import { comparePatchesOfPhoto } from './services/compare-patches-of-photo.ts';
import { lookForCard } from './services/look-for-card.ts';
import { readConfig } from './config.ts';
import { wireTools } from './wiring.ts';

const tools = wireTools({ segmenter: readConfig(process.env).SEGMENTER });

/** What a worker thread does with one task; stages go back through a port while it works. */
export async function performTask(asked: {
  task: AssessmentTask | PatchesTask | CardTask;
  stages: MessagePort;
  /** Holds 1 once the analysis should stop. */
  halt: Int32Array<SharedArrayBuffer>;
}): Promise<unknown> {
  const onStage = (stage: string, fractionDone: number): void => {
    if (Atomics.load(asked.halt, 0) !== 0) {
      throw new Error('The analysis was stopped; it begins anew at the next start');
    }
    asked.stages.postMessage({ stage, fractionDone });
  };
  try {
    switch (asked.task.kind) {
      case 'assessment':
        return await analyseRound(asked.task, tools, onStage);
      case 'patches':
        onStage('measuring the patches', 0);
        return await comparePatchesOfPhoto(asked.task, tools);
      case 'card':
        return await lookForCard(asked.task.photo, tools);
    }
  } finally {
    asked.stages.close();
  }
}
