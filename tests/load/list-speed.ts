import { fillLedger } from '../support/fill-ledger.ts';
import { openBench } from '../support/server-bench.ts';
import { timeLists, wallClock } from '../support/time-lists.ts';

/** `node --import tsx tests/load/list-speed.ts`: milliseconds of a page over 1 000 and over 100 000 assessments. */
const bench = await openBench();
const client = await bench.as('inspector');
await fillLedger(bench.folder, 1000);
await timeLists(client, wallClock);
const few = await timeLists(client, wallClock);
await fillLedger(bench.folder, 99_000);
await timeLists(client, wallClock);
const many = await timeLists(client, wallClock);
const row = (name: string): string =>
  [name.padEnd(20), few[name].p95Ms, few[name].medianMs, many[name].p95Ms, many[name].medianMs]
    .map((cell) => (typeof cell === 'number' ? cell.toFixed(1).padStart(12) : cell))
    .join('');
const head = ['p95, 1 000', 'median', 'p95, 100 000', 'median'].map((text) => text.padStart(12)).join('');
process.stdout.write(`${' '.repeat(20)}${head}\n${Object.keys(many).map(row).join('\n')}\n`);
await bench.stop();
