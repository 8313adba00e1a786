/**
 * Lets the advice clean simulated surfaces whose laws it does not know, and prints how that went: against the quickest
 * single setting, which only the simulation knows, and against a fixed ladder. Fails beyond the limits.
 *
 *   npm run closed-loop [-- --seeds N] [-- --first N] [-- --processes N] [-- --cases FILE] [-- --area M2]
 *     [-- --without-patches]
 *
 * `--cases` writes every case as a line of JSON, round by round. The answer is the same on any number of processes.
 */
import { fork } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { STUDY_TARGET, studyCase, summarise } from '../support/closed-loop-study.ts';
import type { StudyCase, StudySummary, StudyTask } from '../support/closed-loop-study.ts';
import { PATCH_SETUP_MINUTES } from '../../server/process/advice/propose-test-patch.ts';
import { LINE_MACHINE } from '../support/line-machine.ts';
import { REMOVAL_FORMS } from '../support/simulated-process.ts';
import type { SimulatedKind } from '../support/simulated-process.ts';

const KINDS: readonly SimulatedKind[] = ['light rust', 'heavy pitted rust', 'mill scale', 'tight oxide'];
const PHOTO_DEVIATION = 0.01;

/** What the loop must hold. Rows of single kinds and forms are shown, the whole is judged. */
const LIMITS = { ratio: 1.5, met: 0.9, changed: 0.9, ladder: 0.8, coverageLow: 0.85, coverageHigh: 0.98 };

const { values: asked } = parseArgs({
  options: {
    seeds: { type: 'string', default: '50' },
    first: { type: 'string', default: '1' },
    processes: { type: 'string', default: String(availableParallelism()) },
    cases: { type: 'string' },
    area: { type: 'string', default: '1' },
    'without-patches': { type: 'boolean', default: false },
  },
});
const say = (text: string): void => void process.stdout.write(`${text}\n`);
const percent = (share: number): string => (Number.isNaN(share) ? '-' : `${(100 * share).toFixed(0)} %`);
const times = (ratio: number): string => (Number.isNaN(ratio) ? '-' : ratio.toFixed(2));

const COLUMNS: readonly (readonly [string, (row: StudySummary) => string])[] = [
  ['reachable', (row) => String(row.reachable)],
  ['met', (row) => percent(row.metShare)],
  ['in four', (row) => percent(row.metInFourShare)],
  ['rounds', (row) => times(row.medianRounds)],
  ['min/m2', (row) => times(row.medianMinutes)],
  ['patches', (row) => times(row.meanPatches)],
  ['to best', (row) => times(row.medianRatio)],
  ['beam', (row) => times(row.medianBeamRatio)],
  ['stops', (row) => times(row.medianStopRatio)],
  ['to ladder', (row) => times(row.ladderRatio)],
  ['beyond', (row) => String(row.unreachable)],
  ['changed', (row) => percent(row.changedShare)],
  ['covered', (row) => percent(row.coverage)],
  ['photo in', (row) => percent(row.coverageOfPhotos)],
];

function sayRow(name: string, cases: readonly StudyCase[]): void {
  const row = summarise(cases);
  say(name.padEnd(20) + COLUMNS.map(([, cell]) => cell(row).padStart(10)).join(''));
}

const TERMS = {
  machine: LINE_MACHINE,
  photoDeviation: PHOTO_DEVIATION,
  areaM2: Number(asked.area),
  isWithoutPatches: asked['without-patches'],
};
const tasks: StudyTask[] = KINDS.flatMap((kind) =>
  Array.from({ length: Number(asked.seeds) }, (_, index) => ({ kind, seed: Number(asked.first) + index })),
);

/** Hands one task at a time to a process and collects what it answers, until none is left. */
function workThrough(left: StudyTask[], cases: StudyCase[]): Promise<void> {
  return new Promise((resolve, reject) => {
    const worker = fork(process.argv[1], process.argv.slice(2), { env: { ...process.env, [WORKER]: '1' } });
    const next = (): void => {
      const task = left.shift();
      if (task === undefined) worker.disconnect();
      else worker.send(task);
    };
    worker.on('message', (answer: { case: StudyCase | null }) => {
      if (answer.case !== null) cases.push(answer.case);
      next();
    });
    worker.on('error', reject);
    worker.on('exit', (code) => {
      if (code === 0) resolve();
      else reject(new Error(`A worker ended with ${code}`));
    });
    next();
  });
}

/** Set in processes that only work on the tasks they are sent. */
const WORKER = 'CLOSED_LOOP_WORKER';

async function studyAll(): Promise<StudyCase[]> {
  const cases: StudyCase[] = [];
  const left = [...tasks];
  await Promise.all(Array.from({ length: Math.max(1, Number(asked.processes)) }, () => workThrough(left, cases)));
  const place = ({ kind, seed }: StudyTask): number => 1e6 * KINDS.indexOf(kind) + seed;
  return cases.sort((a, b) => place(a) - place(b));
}

function answerTasks(): void {
  process.on('message', (task: StudyTask) => void process.send?.({ case: studyCase(task, TERMS) }));
}

function report(cases: readonly StudyCase[]): void {
  say(
    `Target ${percent(STUDY_TARGET)} residue, ${asked.seeds} seeds a kind from ${asked.first}, hand +-20 %, photo +-${percent(2 * PHOTO_DEVIATION)}, zone of ${asked.area} m2${asked['without-patches'] ? ', no patches' : ''}.`,
  );
  say(
    `min/m2 and "to best" count beam time of rounds and patches and ${PATCH_SETUP_MINUTES} min of set-up a patch, against the beam time of the best single setting;`,
  );
  say('"beam" leaves the set-up out; "stops" adds half a minute a square metre for every round on both sides.');
  say(' '.repeat(20) + COLUMNS.map(([title]) => title.padStart(10)).join(''));
  for (const kind of KINDS) {
    sayRow(
      kind,
      cases.filter((one) => one.kind === kind),
    );
  }
  for (const form of REMOVAL_FORMS) {
    sayRow(
      `form: ${form}`,
      cases.filter((one) => one.removal === form),
    );
  }
  sayRow('all', cases);

  const whole = summarise(cases);
  const failures = [
    whole.medianRatio > LIMITS.ratio && `median minutes ${times(whole.medianRatio)} of the best setting's`,
    whole.metShare < LIMITS.met && `target met in ${percent(whole.metShare)}`,
    whole.changedShare < LIMITS.changed && `method changed in ${percent(whole.changedShare)}`,
    whole.ladderRatio > LIMITS.ladder && `${times(whole.ladderRatio)} of the ladder's time`,
    (whole.coverage < LIMITS.coverageLow || whole.coverage > LIMITS.coverageHigh) &&
      `intervals hold ${percent(whole.coverage)}`,
  ].filter((failure) => failure !== false);
  say(`${((performance.now() - started) / 1000).toFixed(0)} s`);
  if (asked.cases !== undefined) writeFileSync(asked.cases, cases.map((one) => `${JSON.stringify(one)}\n`).join(''));
  for (const failure of failures) say(`beyond its limit: ${failure}`);
  if (failures.length > 0) process.exitCode = 1;
}

const started = performance.now();
if (process.env[WORKER] === undefined) report(await studyAll());
else answerTasks();
