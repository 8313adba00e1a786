import { type Settings } from '../../domain/index.ts';
import { strokeFluence } from '../../domain/energy/stroke-fluence.ts';
import { percent } from './explain-round.ts';
import { type Planning } from './round-prospect.ts';
import { STALLED_PART } from './round-response.ts';

/** What the photo after this round would have to show for another choice, in one sentence. */
export function explainDoubt({ history, aim, sample }: Planning, settings: Settings): string {
  const now = history.rounds.at(-1)?.after.residueFraction ?? meanOf(sample.residueNow);
  const where = history.rounds.at(-1)?.after.worstSquare === undefined ? '' : ' of the whole zone';
  const fluence = strokeFluence(settings, history.machine);
  const stalled = Math.max(aim.target, STALLED_PART * now);
  return (
    `If the photo then shows more than ${percent(stalled)} residue, strokes of ${fluence.toFixed(fluence < 10 ? 1 : 0)} J/cm2 are too weak here ` +
    `and a deeper one comes next instead of more passes; at ${percent(aim.shownShare)} or less${where} the work is done, ` +
    `unless a scrape test brings material off.`
  );
}

const meanOf = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;
