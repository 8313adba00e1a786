import { assertNever, faultSentence } from '../domain/index.ts';
import type { Fault, Outcome } from '../domain/index.ts';
import type { Analyst } from './analysis-ports.ts';
import type { Ledger } from './ledger.ts';
import { momentOf, nowOf, SECOND_MS } from './moments.ts';
import type { Log, Metrics } from './observe-ports.ts';
import { performAssessment } from './perform-assessment.ts';
import type { PerformPorts } from './perform-assessment.ts';
import { performComparison } from './perform-comparison.ts';
import type { Clock } from './people-ports.ts';
import type { ProgressBoard } from './progress-board.ts';
import type { WorkItem } from './queue-ports.ts';

export interface QueueWorkerPorts {
  readonly ledger: Ledger;
  readonly objects: PerformPorts['objects'];
  readonly analyst: Analyst;
  readonly board: ProgressBoard;
  readonly sha256: PerformPorts['sha256'];
  readonly clock: Clock;
  readonly log: Log;
  readonly metrics: Metrics;
}

export interface QueueWorker {
  /** Puts back what a dead process left, and begins. */
  start(): Promise<void>;
  /** Looks for work now. */
  wake(): void;
  /** Breaks off what runs; it stays in the queue. */
  stop(): Promise<void>;
}

/** How often it looks by itself, for work that waits for a time. */
const LOOK_EVERY_MS = 2 * SECOND_MS;
/** An analysis that throws is tried this often; the cause may be a moment's want of memory. */
const MOST_ATTEMPTS = 3;
const RETRY_AFTER_MS = 5 * SECOND_MS;

/** Takes work from the queue as long as there are free places for it. */
export function workThroughQueue(ports: QueueWorkerPorts): QueueWorker {
  const running = new Set<Promise<void>>();
  let isStopping = false;
  let filling: Promise<void> = Promise.resolve();
  let timer: NodeJS.Timeout | null = null;
  const isStopped = (): boolean => isStopping;
  const fill = async (): Promise<void> => {
    while (!isStopped() && running.size < ports.analyst.places) {
      const item = await ports.ledger.queue.lease(nowOf(ports.clock));
      if (item === null) break;
      const work: Promise<void> = perform(item, ports, isStopped).finally(() => {
        running.delete(work);
        wake();
      });
      running.add(work);
    }
    ports.metrics.setQueue(await ports.ledger.queue.counts());
  };
  const wake = (): void => {
    if (isStopping) return;
    filling = filling.then(fill).catch((error: unknown) => {
      ports.log.error('The queue cannot be read', error);
    });
  };
  return {
    wake,
    async start() {
      await recoverQueue(ports);
      timer = setInterval(wake, LOOK_EVERY_MS);
      wake();
    },
    async stop() {
      isStopping = true;
      if (timer !== null) clearInterval(timer);
      await filling;
      await ports.analyst.stop();
      await Promise.all(running);
    },
  };
}

/** Whatever the rows say is owed stands in the queue again. */
async function recoverQueue({ ledger, clock, log }: QueueWorkerPorts): Promise<void> {
  const at = nowOf(clock);
  const putBack = await ledger.queue.recover(at);
  for (const { id } of await ledger.assessments.listOwed()) await ledger.queue.enqueue('assessment', id, at);
  for (const { id } of await ledger.comparisons.listOwed()) await ledger.queue.enqueue('comparison', id, at);
  if (putBack > 0) log.warn('Analyses were interrupted and run again', { count: putBack });
}

async function perform(item: WorkItem, ports: QueueWorkerPorts, isStopping: () => boolean): Promise<void> {
  const { ledger, board, clock, log, metrics } = ports;
  const beganMs = clock.now();
  const seconds = (): number => (clock.now() - beganMs) / SECOND_MS;
  try {
    const outcome = await performKind(item, ports);
    if (!outcome.ok) await refuse(item, outcome.fault, ports);
    await ledger.queue.finish(item.id);
    metrics.countAnalysis(item.kind, outcome.ok ? 'done' : 'refused', seconds());
    log.info('Analysis ended', {
      kind: item.kind,
      id: item.subjectId,
      outcome: outcome.ok ? 'done' : outcome.fault.code,
      seconds: seconds(),
    });
  } catch (error) {
    if (isStopping()) await ledger.queue.release(item.id);
    else {
      metrics.countAnalysis(item.kind, 'broke down', seconds());
      log.error('Analysis broke down', error, { kind: item.kind, id: item.subjectId, failures: item.failures + 1 });
      await retryOrGiveUp(item, ports);
    }
  } finally {
    board.clear(item.subjectId);
  }
}

function performKind(item: WorkItem, ports: QueueWorkerPorts): Promise<Outcome<null>> {
  const onStage = (stage: string, fractionDone: number): void => {
    ports.board.note(item.subjectId, stage, fractionDone);
  };
  switch (item.kind) {
    case 'assessment':
      return performAssessment(item.subjectId, onStage, ports);
    case 'comparison':
      return performComparison(item.subjectId, onStage, ports);
    default:
      return assertNever(item.kind);
  }
}

async function refuse(item: WorkItem, fault: Fault, { ledger, clock }: QueueWorkerPorts): Promise<void> {
  const note = { code: fault.code, sentence: faultSentence(fault) };
  if (item.kind === 'assessment') await ledger.assessments.fail(item.subjectId, nowOf(clock), note);
  else await ledger.comparisons.fail(item.subjectId, note);
}

async function retryOrGiveUp(item: WorkItem, ports: QueueWorkerPorts): Promise<void> {
  const attempts = item.failures + 1;
  if (attempts < MOST_ATTEMPTS) {
    const notBefore = momentOf(ports.clock.now() + RETRY_AFTER_MS * attempts);
    await ports.ledger.queue.retry(item.id, notBefore);
    return;
  }
  await refuse(item, { code: 'analysis-broke-down', attempts }, ports);
  await ports.ledger.queue.finish(item.id);
}
