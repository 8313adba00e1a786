import {
  type EarlierZone,
  failure,
  fraction,
  type History,
  measured,
  type Measured,
  type Outcome,
  type Quote,
  type QuoteRequest,
  success,
} from '../../domain/index.ts';
import { type RemovalPrior, removalPriorOf } from '../../domain/removal/removal-prior.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';
import { checkHistory } from '../advice/check-history.ts';
import { type EffortCurves, remainingEffort } from '../advice/effort-curves.ts';
import { planRound } from '../advice/round-prospect.ts';
import { type BeliefSample, sampleBelief } from '../belief/belief-sample.ts';
import { pooledPrior, zonesOfKind } from '../belief/pooled-prior.ts';
import { believeSurface } from '../belief/surface-belief.ts';
import { explainQuote } from './explain-quote.ts';
import { quoteAssumptions } from './quote-assumptions.ts';
import { FINDING_FACTOR } from './finding-factor.ts';
import { logMoments } from './log-minutes.ts';
import { predictZone, type ZonePrediction } from './predict-zone.ts';
import { beamShareOf } from './round-minutes.ts';
import { zoneMinutes } from './zone-minutes.ts';

const SAMPLE_SIZE = 256;
/** Share of working time with the beam on: the rest is moving, photographing, checking, cooling. Common practice. */
const USUAL_BEAM_SHARE = 0.6;
const MINUTES_PER_HOUR = 60;

/**
 * Hours and cost of an area: the middle, the half of cases around it and the central 95 %. Without earlier zones of the
 * kind it rests on surfaces as common practice has them; each treated zone then counts with the minutes that it took, and
 * together they tell how far zones of this shop differ. The chance that the machine cannot do it at all is said beside it.
 */
export function quoteJob(request: QuoteRequest): Outcome<Quote> {
  const { machine, target, surface, areaM2 } = request;
  const checked = checkHistory({ machine, target, rounds: [], ...(surface === undefined ? {} : { surface }) });
  if (!checked.ok) return checked;
  const kind = surfaceKindOf(surface);
  const prior = removalPriorOf(kind);
  const earlier = crediblesOf(request);
  const leftOut = (request.earlierZones ?? []).length - earlier.length;
  const zones = zonesOfKind(earlier, kind);
  const usual = outlook(checked.value, prior);
  const pooled = zones.length === 0 ? usual : outlook(checked.value, pooledPrior(prior, machine, zones));
  const taken = zones.flatMap((zone) => zoneMinutes(zone, { machine, target, prior }) ?? []);
  const totals = usual.minutes.length > 0 ? usual.minutes : pooled.minutes;
  if (totals.length === 0) {
    return failure({
      code: 'quote-malformed',
      path: 'target',
      detail: 'is out of reach of this machine on this kind of surface as far as is known; try a patch before quoting',
    });
  }
  const reachable = pooled.curves.reachableShare;
  const usualMinutes = logMoments(totals);
  const prediction = predictZone(usualMinutes, taken);
  const learnt = request.beamShare === undefined ? beamShareOf(earlier, machine) : null;
  const beamShare = request.beamShare ?? learnt?.share ?? USUAL_BEAM_SHARE;
  const toHours = { factor: areaM2 / (MINUTES_PER_HOUR * beamShare), plus: request.setUpHours ?? 0 };
  const minutes = rangeOf(prediction);
  const hours = scaled(minutes, toHours);
  const likelyHours = likelyOf(prediction, toHours);
  const { hourlyRate } = request;
  return success({
    schema: 'bareplate/quote@1',
    areaM2,
    surfaceKind: kind,
    target,
    minutesPerSquareMetre: minutes,
    hours,
    cost: scaled(hours, { factor: hourlyRate, plus: 0 }),
    likely: {
      hours: likelyHours,
      cost: { low: hourlyRate * likelyHours.low, high: hourlyRate * likelyHours.high },
      coverage: 0.5,
    },
    ...(request.currency === undefined ? {} : { currency: request.currency }),
    probabilityReachable: fraction(reachable),
    zones: taken.length,
    ...explainQuote({ kind, target, minutes, prediction, usual: usualMinutes, taken, zonesOfKind: zones.length }),
    assumptions: quoteAssumptions({ target, beamShare, learnt, leftOut, isMeasured: taken.length > 0, reachable }),
  });
}

/** Earlier zones whose rounds contradict one another, or cannot have happened on this machine, say nothing to rely on. */
const crediblesOf = ({ machine, target, earlierZones = [] }: QuoteRequest): EarlierZone[] =>
  earlierZones.filter(({ rounds }) => checkHistory({ machine, target, rounds }).ok);

interface Outlook {
  readonly curves: EffortCurves;
  /** Minutes for a square metre on each surface that can be brought to the target, finding the setting included. */
  readonly minutes: readonly number[];
}

function outlook(history: History, prior: RemovalPrior): Outlook {
  const sample: BeliefSample = sampleBelief(believeSurface(history, prior), SAMPLE_SIZE);
  const { curves } = planRound(history, sample);
  const minutes = Array.from(sample.residueNow.entries())
    .filter(([surface]) => curves.reachable[surface] === 1)
    .map(([surface, residue]) => FINDING_FACTOR * remainingEffort(curves, surface, residue));
  return { curves, minutes };
}

const rangeOf = ({ quantile }: ZonePrediction): Measured => measured(quantile(0.5), quantile(0.025), quantile(0.975));

interface Line {
  readonly factor: number;
  readonly plus: number;
}

const likelyOf = ({ quantile }: ZonePrediction, { factor, plus }: Line): { low: number; high: number } => ({
  low: quantile(0.25) * factor + plus,
  high: quantile(0.75) * factor + plus,
});

const scaled = ({ value, low, high }: Measured, { factor, plus }: Line): Measured =>
  measured(value * factor + plus, low * factor + plus, high * factor + plus);
