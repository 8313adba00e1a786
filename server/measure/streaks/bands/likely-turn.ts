import { signalAcross } from './explained-share.ts';
import type { SignalLook } from './explained-share.ts';
import type { StripeFrame } from './strip-profiles.ts';

const DEGREE = Math.PI / 180;
/** Turns tried, degrees, and how far the direction is known beforehand, as a standard deviation. */
const TURN = { most: 4.5, step: 0.75, deviation: 2 } as const;
/** Bends tried, per mm, and how far stripes are bent beforehand: few are, and those little. */
const BENDS_PER_MM = [-0.5e-3, 0, 0.5e-3] as const;
const BEND = { straight: 0.7, deviation: 0.3e-3 } as const;
/** Side of a square of cells that err alike, mm. */
const ALIKE_MM = 12;

/**
 * By how much stripes run askew to a frame, radians: mean over turns and bends, weighed by how likely they make what all looks
 * show. Looks see the same surface, so together they count as one.
 *
 * Chosen on 865 rendered zones with seams and bands, with finer steps: directions told by one look are off by more than 2 degrees in
 * 65, by all looks in 50. On 458 others, drawn later, the mean error falls from 0.58 to 0.54 degrees.
 *
 * Source: normal errors of equal variance about a profile that is fitted with them (profile likelihood).
 */
export function likelyTurn(looks: readonly SignalLook[], frame: StripeFrame): number {
  if (looks.length === 0) return 0;
  const across = looks.map(signalAcross);
  const turns = Array.from({ length: 2 * (TURN.most / TURN.step) + 1 }, (_, k) => (k * TURN.step - TURN.most) * DEGREE);
  const tried = turns.flatMap((turn) =>
    BENDS_PER_MM.map((bendPerMm) => {
      const at = { angle: frame.angle + turn, bendPerMm };
      const likelihoods = across.map(
        ({ explainedBy, areaMm2 }) => (-areaMm2 / (2 * ALIKE_MM ** 2)) * Math.log(Math.max(1e-6, 1 - explainedBy(at))),
      );
      const together = likelihoods.reduce((sum, one) => sum + one, 0) / looks.length;
      return { turn, logOdds: together + beforehand(turn, bendPerMm) };
    }),
  );
  const most = Math.max(...tried.map(({ logOdds }) => logOdds));
  let [sum, total] = [0, 0];
  for (const { turn, logOdds } of tried) {
    const weight = Math.exp(logOdds - most);
    sum += weight * turn;
    total += weight;
  }
  return sum / total;
}

/** Log probability of a turn and a bend before anything is seen, up to a constant. */
function beforehand(turn: number, bendPerMm: number): number {
  const bent = (1 - BEND.straight) * Math.exp(-((bendPerMm / BEND.deviation) ** 2) / 2);
  return Math.log(bendPerMm === 0 ? BEND.straight : bent) - (turn / (TURN.deviation * DEGREE)) ** 2 / 2;
}
