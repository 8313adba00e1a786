import {
  dialsBeyond,
  failure,
  type Fault,
  hasTooManyPasses,
  historySchema,
  success,
  type History,
  type Machine,
  type Outcome,
  type Round,
} from '../../domain/index.ts';
import { defaultResidueDeviation, residueAfter } from '../belief/measured-residue.ts';

/** Part of a limit that steps of the dial may miss it by. */
const ROUNDING = 1e-9;

/** Two readings of one surface contradict each other beyond this many deviations and this share. */
const CONTRADICTION = { deviations: 3, leastShare: 0.1 };

/** Refuses a history that cannot be read, or that cannot have happened on this machine and this surface. */
export function checkHistory(history: History): Outcome<History> {
  const parsed = historySchema.safeParse(history);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    return failure({ code: 'history-malformed', path: issue.path.join('.'), detail: issue.message });
  }
  const { machine, rounds } = parsed.data;
  for (const [index, round] of rounds.entries()) {
    const fault = outsideMachine(machine, round, index) ?? grownResidue(round, index) ?? brokenChain(rounds, index);
    if (fault !== null) return failure(fault);
  }
  const fault = brokenPatch(parsed.data);
  return fault === null ? success(parsed.data) : failure(fault);
}

/** Patches have to fit the machine and lie on the zone as it was after as many rounds as they say. */
function brokenPatch({ machine, rounds, testPatches = [] }: History): Fault | null {
  for (const [index, patch] of testPatches.entries()) {
    if (patch.afterRounds > rounds.length) {
      const detail = `is said to follow ${patch.afterRounds} rounds but the zone has had ${rounds.length}`;
      return { code: 'history-malformed', path: `testPatches.${index}.afterRounds`, detail };
    }
    const chain = [...rounds.slice(0, patch.afterRounds), patch];
    const fault =
      outsideMachine(machine, patch, index) ?? grownResidue(patch, index) ?? brokenChain(chain, patch.afterRounds);
    if (fault !== null) return { code: 'history-malformed', path: `testPatches.${index}`, detail: fault.detail };
  }
  return null;
}

type Contradiction = Extract<Fault, { code: 'history-contradictory' }>;

const contradiction = (index: number, detail: string): Contradiction => ({
  code: 'history-contradictory',
  round: index + 1,
  detail,
});

function outsideMachine(machine: Machine, { settings }: Round, index: number): Contradiction | null {
  const beyond = dialsBeyond(settings, machine, ROUNDING).at(0);
  if (beyond !== undefined) {
    const { dial, set, min, max } = beyond;
    return contradiction(index, `${dial} is ${set} but the machine goes from ${min} to ${max}`);
  }
  if (!hasTooManyPasses(settings, machine)) return null;
  return contradiction(index, `passes is ${settings.passes} but the machine's most is ${machine.maxPasses}`);
}

function grownResidue(round: Round, index: number): Contradiction | null {
  const before = round.before.residueFraction;
  const { share, deviation } = residueAfter(round);
  if (share <= before || !differs(share - before, deviation, defaultResidueDeviation(before))) return null;
  return contradiction(index, `residue grew from ${percent(before)} before to ${percent(share)} after the treatment`);
}

function brokenChain(rounds: readonly Round[], index: number): Contradiction | null {
  if (index === 0) return null;
  const before = rounds[index].before.residueFraction;
  const { share, deviation } = residueAfter(rounds[index - 1]);
  if (!differs(Math.abs(before - share), deviation, defaultResidueDeviation(before))) return null;
  return contradiction(
    index,
    `it starts from ${percent(before)} residue but round ${index} ended at ${percent(share)}; rounds must follow one another on the same zone`,
  );
}

const differs = (difference: number, a: number, b: number): boolean =>
  difference > Math.max(CONTRADICTION.leastShare, CONTRADICTION.deviations * Math.hypot(a, b));

const percent = (share: number): string => `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;
