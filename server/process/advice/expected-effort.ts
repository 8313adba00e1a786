import { remainingEffort } from './effort-curves.ts';
import { photoLikeness, seenDeviation } from './photo-likeness.ts';
import { type Planning, type RoundProspect } from './round-prospect.ts';

/** Extra on what is still to do when a later round falls short: that one, too, may fail. Chosen by the closed-loop test. */
const SHORTFALL_FACTOR = 1.5;
/** Minutes per square metre that stopping, photographing and starting again costs. Common practice. */
export const ROUND_OVERHEAD_MINUTES = 0.5;
/**
 * What further rounds cost against those of somebody who knew the surface, as a patch's worth is reckoned. Chosen by the
 * closed-loop test, where the minutes that were still needed were as expected with it.
 */
export const UNKNOWING_FACTOR = 1.4;
/**
 * The same where a round is chosen: much before the first, little once a photo of the whole zone has shown what the surface
 * is like; patches alone left the first round too weak. One factor for both made first rounds too weak and last ones too
 * long. Chosen by the closed-loop test.
 */
const UNKNOWING = { untried: 1.6, tried: 1.15 } as const;
const LEAST_CHANCE = 0.01;

/** As {@link expectedEffort}, if one knew the surface afterwards: quick, a little hopeful, good for a first sieve. */
export function hopefulEffort({ curves, stakes }: Planning, prospect: RoundProspect): number {
  let [later, total] = [0, 0];
  stakes.forEach((stake, surface) => {
    if (stake === 0) return;
    const rest = remainingEffort(curves, surface, prospect.residues[surface]);
    total += stake;
    later += stake * prospect.misses[surface] * (HOPEFUL_FACTOR * rest + ROUND_OVERHEAD_MINUTES);
  });
  return prospect.effort + later / Math.max(Number.MIN_VALUE, total);
}
const HOPEFUL_FACTOR = 1.2;

/** Surfaces of the sample that can be reached, in the order of what they still need after a round. */
interface Outlook {
  readonly rest: Float64Array;
  readonly residue: Float64Array;
  readonly miss: Float64Array;
  readonly stake: Float64Array;
}

/**
 * Minutes per square metre until the target is shown, redo and photographs included. After the round a photo is taken;
 * whoever sees it knows the surface better, but not fully: the next budget is set for all surfaces that the photo cannot
 * tell apart, too much for some and too little for others. So a round that teaches little is followed by waste.
 */
export function expectedEffort(planning: Planning, prospect: RoundProspect): number {
  const outlook = outlookOf(planning, prospect);
  const unknowing = planning.history.rounds.length === 0 ? UNKNOWING.untried : UNKNOWING.tried;
  let [later, total] = [0, 0];
  const likeness = new Float64Array(outlook.rest.length);
  for (let truth = 0; truth < outlook.rest.length; truth++) {
    total += outlook.stake[truth];
    if (outlook.miss[truth] < LEAST_CHANCE) continue;
    likenessTo(outlook, truth, planning.aim.photoDeviation, likeness);
    const next = unknowing * bestBudgetEffort(outlook.rest, likeness) + ROUND_OVERHEAD_MINUTES;
    later += outlook.stake[truth] * outlook.miss[truth] * next;
  }
  return prospect.effort + later / Math.max(Number.MIN_VALUE, total);
}

function outlookOf({ curves, stakes }: Planning, { residues, misses }: RoundProspect): Outlook {
  const reachable = Array.from(stakes.keys()).filter((surface) => stakes[surface] > 0);
  const entries = reachable.map((surface) => ({ surface, rest: remainingEffort(curves, surface, residues[surface]) }));
  entries.sort((a, b) => a.rest - b.rest);
  const pick = (values: Float64Array): Float64Array => Float64Array.from(entries, ({ surface }) => values[surface]);
  return {
    rest: Float64Array.from(entries, ({ rest }) => rest),
    residue: pick(residues),
    miss: pick(misses),
    stake: pick(stakes),
  };
}

/** Weight of every surface in the belief of somebody who has seen the photo of one of them. */
function likenessTo(outlook: Outlook, truth: number, photoDeviation: number, likeness: Float64Array): void {
  const seen = outlook.residue[truth];
  const deviation = seenDeviation(photoDeviation, seen);
  for (let other = 0; other < likeness.length; other++) {
    const alike = photoLikeness(seen, outlook.residue[other], deviation);
    likeness[other] = alike === 0 ? 0 : outlook.stake[other] * outlook.miss[other] * alike;
  }
}

/**
 * Least expected minutes when one budget is set for surfaces of different need: the budget itself, and for those that
 * need more the shortfall with its extra and another stop. `rest` rises.
 */
function bestBudgetEffort(rest: Float64Array, likeness: Float64Array): number {
  let [weightAbove, needAbove] = [0, 0];
  likeness.forEach((weight, surface) => {
    weightAbove += weight;
    needAbove += weight * rest[surface];
  });
  const total = weightAbove;
  let best = Infinity;
  for (let surface = 0; surface < rest.length; surface++) {
    if (likeness[surface] === 0) continue;
    weightAbove -= likeness[surface];
    needAbove -= likeness[surface] * rest[surface];
    const shortfall = needAbove - weightAbove * rest[surface];
    const extra = (SHORTFALL_FACTOR * shortfall + ROUND_OVERHEAD_MINUTES * weightAbove) / total;
    best = Math.min(best, rest[surface] + extra);
  }
  return best;
}
