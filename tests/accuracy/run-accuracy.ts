/**
 * Measures the measuring core on freshly seeded scenes and fails beyond the limits.
 *
 *   npm run accuracy -- [--seed N] [--scenes N] [--segmenter colour] [--rows FILE]
 *
 * Half of the scenes are composed with the textures and coupons of ../shared/data, where that folder is present.
 */
import { fork } from 'node:child_process';
import { randomInt } from 'node:crypto';
import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import type { AccuracyRow, AccuracyTask } from './accuracy-worker.ts';
import type { BridgeRow } from './search-bridge-photo.ts';
import type { ComparisonRow } from './measure-comparison.ts';
import type { GaugeRow } from './measure-gauge.ts';
import type { SceneRow } from './measure-scene.ts';
import {
  summariseBridge,
  summariseComparisons,
  summariseGauges,
  summariseScenes,
  summariseStreaks,
} from './summary.ts';
import type { SummaryLine } from './summary.ts';

const { values: asked } = parseArgs({
  options: {
    seed: { type: 'string' },
    scenes: { type: 'string', default: '200' },
    segmenter: { type: 'string', default: 'network' },
    rows: { type: 'string' },
  },
});
const seed = asked.seed === undefined ? randomInt(1_000_000, 2_000_000_000) : Number(asked.seed);
const scenes = Number(asked.scenes);
const shared = fileURLToPath(new URL('../../../shared/data', import.meta.url));
const hasShared = existsSync(shared);

const tasks = planTasks();
process.stdout.write(
  `seed ${seed}, ${scenes} scenes, ${asked.segmenter} segmenter${hasShared ? '' : '; no ../shared/data: nothing composed, no bridge photos'}\n`,
);
const rows = await workThrough(tasks);
if (asked.rows !== undefined) writeFileSync(asked.rows, rows.map((row) => JSON.stringify(row)).join('\n'));
const ok = report(rows);
process.exitCode = ok ? 0 : 1;

function planTasks(): AccuracyTask[] {
  const plan: AccuracyTask[] = [];
  for (let i = 0; i < scenes; i++) {
    plan.push({
      kind: 'scene',
      seed: seed + i,
      isComposed: hasShared && i % 2 === 1,
      options: { maxTiltDegrees: 40 },
      withSettings: i % 4 < 2,
    });
  }
  for (let i = 0; i < scenes / 5; i++) plan.push({ kind: 'comparison', seed: seed + 10_000 + i });
  for (let i = 0; i < Math.max(1, scenes / 100); i++) plan.push({ kind: 'gauge', seed: seed + 20_000 + i });
  if (hasShared) {
    const folder = `${shared}/bridge-corrosion/images`;
    const files = readdirSync(folder).map((name) => `${folder}/${name}`);
    for (let i = 0; i < files.length; i += 40) plan.push({ kind: 'bridge', seed: i, files: files.slice(i, i + 40) });
  }
  return plan;
}

function workThrough(all: readonly AccuracyTask[]): Promise<AccuracyRow[]> {
  const done: AccuracyRow[] = [];
  let next = 0;
  const worker = fileURLToPath(new URL('accuracy-worker.ts', import.meta.url));
  const work = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = fork(worker, [shared, asked.segmenter]);
      const send = (): void => {
        if (next < all.length) child.send(all[next++]);
        else child.disconnect();
      };
      child.on('message', (message: AccuracyRow | 'ready') => {
        if (message !== 'ready') done.push(message);
        if (process.stderr.isTTY) process.stderr.write(`\r${done.length}/${all.length} `);
        send();
      });
      child.on('exit', (code) => {
        if (code === 0) resolve();
        else reject(new Error(`a worker stopped with code ${code ?? 'none'}`));
      });
    });
  const workers = Math.min(all.length, Math.max(1, availableParallelism()));
  return Promise.all(Array.from({ length: workers }, work)).then(() => done);
}

function report(all: readonly AccuracyRow[]): boolean {
  const of = <Row extends AccuracyRow>(kind: AccuracyTask['kind']): Row[] =>
    all.filter((row) => row.task.kind === kind) as Row[];
  const sceneRows = of<SceneRow>('scene');
  const lines: SummaryLine[] = [
    ...summariseScenes(sceneRows),
    ...summariseStreaks(sceneRows),
    ...summariseComparisons(of<ComparisonRow>('comparison')),
    ...summariseGauges(of<GaugeRow>('gauge')),
    ...summariseBridge(of<BridgeRow>('bridge')),
  ];
  for (const { what, value, limit, cases, holds } of lines) {
    const mark = holds === null ? 'none' : holds ? 'ok' : 'FAILS';
    process.stdout.write(`${mark.padEnd(6)}${what.padEnd(78)}${value.padStart(9)}  ${limit.padEnd(15)} n ${cases}\n`);
  }
  const faults = sceneRows.filter((row) => row.fault !== null);
  for (const { task, fault } of faults) process.stdout.write(`scene ${task.seed}: ${fault ?? ''}\n`);
  return lines.every((entry) => entry.holds !== false);
}
