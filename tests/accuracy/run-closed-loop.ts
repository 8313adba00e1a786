/**
 * Lets the advice clean simulated surfaces whose laws it does not know, and prints how that went.
 *
 *   npm run closed-loop [-- --seeds N]
 */
import { parseArgs } from 'node:util';
import { bestSingleMinutes, isBeyondMachine, runClosedLoop } from '../support/closed-loop.ts';
import { LINE_MACHINE } from '../support/line-machine.ts';
import { simulateProcess } from '../support/simulated-process.ts';
import type { SimulatedKind } from '../support/simulated-process.ts';
import { percentile } from '../support/percentile.ts';

const KINDS: readonly SimulatedKind[] = ['light rust', 'heavy pitted rust', 'mill scale', 'tight oxide'];
const TARGET = 0.05;
const MOST_ROUNDS = 4;
const PHOTO_DEVIATION = 0.01;
/** Thresholds times this put the work beyond any hand-held line. */
const BEYOND = 1000;

const { values: asked } = parseArgs({ options: { seeds: { type: 'string', default: '50' } } });
const seeds = Number(asked.seeds);
const say = (text: string): void => void process.stdout.write(`${text}\n`);

say(
  `target ${TARGET}, ${seeds} seeds per kind, at most ${MOST_ROUNDS} rounds, hand +-20 %, photo +-${2 * PHOTO_DEVIATION}`,
);
for (const kind of KINDS) {
  const ratios: number[] = [];
  let possible = 0;
  let met = 0;
  let beyond = 0;
  let changed = 0;
  for (let seed = 1; seed <= seeds; seed++) {
    for (const harder of [1, BEYOND]) {
      const simulated = simulateProcess({ kind, seed, machine: LINE_MACHINE, harder });
      const best = bestSingleMinutes(simulated, LINE_MACHINE, TARGET);
      const end = runClosedLoop(simulated, {
        machine: LINE_MACHINE,
        target: TARGET,
        seed,
        surface: kind,
        photoDeviation: PHOTO_DEVIATION,
        mostRounds: MOST_ROUNDS,
      });
      if (best !== null) {
        possible++;
        if (end.trueResidue <= TARGET) met++;
        ratios.push(end.minutes / best);
      } else if (isBeyondMachine(simulated, LINE_MACHINE, TARGET)) {
        beyond++;
        if (end.verdict === 'change method') changed++;
      }
    }
  }
  say(
    `${kind.padEnd(18)} met ${met}/${possible}; minutes against the best single setting: median ${percentile(ratios, 0.5).toFixed(2)}, 90 % ${percentile(ratios, 0.9).toFixed(2)}; change method ${changed}/${beyond}`,
  );
}
