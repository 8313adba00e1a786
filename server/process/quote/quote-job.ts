import {
  failure,
  fraction,
  measured,
  type Measured,
  minutesPerSquareMetre,
  type Outcome,
  type Quote,
  type QuoteRequest,
  success,
} from '../../domain/index.ts';
import { checkHistory } from '../advice/check-history.ts';
import { percent } from '../advice/explain-round.ts';
import { planRound } from '../advice/round-prospect.ts';
import { remainingEffort } from '../advice/effort-curves.ts';
import { sampleBelief } from '../belief/belief-sample.ts';
import { pooledPrior, zonesOfKind } from '../belief/pooled-prior.ts';
import { believeSurface } from '../belief/surface-belief.ts';
import { removalPriorOf } from '../../domain/removal/removal-prior.ts';
import { surfaceKindOf } from '../../domain/removal/surface-kind.ts';

const SAMPLE_SIZE = 256;
/** Share of working time with the beam on: the rest is moving, photographing, checking, cooling. Common practice. */
const USUAL_BEAM_SHARE = 0.6;
/**
 * Beam time of finding the setting and of what is treated twice, against the best single setting: what the closed-loop
 * test shows at most in the middle of its cases.
 */
const FINDING_FACTOR = 1.5;
const MINUTES_PER_HOUR = 60;

/**
 * Hours and cost of an area, from what is believed of its kind of surface: the middle and the central 95 % over surfaces
 * that this machine can bring to the target. It is an estimate before anything is measured; the chance that the machine
 * cannot do it at all is said beside it.
 */
export function quoteJob(request: QuoteRequest): Outcome<Quote> {
  const { machine, target, surface, areaM2 } = request;
  const history = { machine, target, rounds: [], ...(surface === undefined ? {} : { surface }) };
  const checked = checkHistory(history);
  if (!checked.ok) return checked;
  const kind = surfaceKindOf(surface);
  const zones = zonesOfKind(request.earlierZones ?? [], kind);
  const prior = pooledPrior(removalPriorOf(kind), machine, zones);
  const sample = sampleBelief(believeSurface(history, prior), SAMPLE_SIZE);
  const { curves } = planRound(checked.value, sample);
  const minutes = Array.from(sample.residueNow.entries())
    .filter(([index]) => curves.reachable[index] === 1)
    .map(([index, residue]) => FINDING_FACTOR * remainingEffort(curves, index, residue))
    .sort((a, b) => a - b);
  if (minutes.length === 0) {
    return failure({
      code: 'quote-malformed',
      path: 'target',
      detail: 'is out of reach of this machine on this kind of surface as far as is known; try a patch before quoting',
    });
  }
  const at = (share: number): number => minutes[Math.round(share * (minutes.length - 1))];
  const perSquareMetre = measured(at(0.5), at(0.025), at(0.975));
  const beamShare = request.beamShare ?? USUAL_BEAM_SHARE;
  const setUp = request.setUpHours ?? 0;
  const hours = scaled(perSquareMetre, areaM2 / (MINUTES_PER_HOUR * beamShare), setUp);
  return success({
    schema: 'bareplate/quote@1',
    areaM2,
    surfaceKind: kind,
    target,
    minutesPerSquareMetre: scaled(perSquareMetre, 1, 0),
    hours,
    cost: scaled(hours, request.hourlyRate, 0),
    ...(request.currency === undefined ? {} : { currency: request.currency }),
    probabilityReachable: fraction(curves.reachableShare),
    because: `On ${kind === 'unknown' ? 'a surface of unknown kind' : kind} this machine should need ${minutesPerSquareMetre(perSquareMetre.value).toFixed(1)} min of beam time a square metre for ${percent(target.residueFractionMax)} residue (${perSquareMetre.low.toFixed(1)} to ${perSquareMetre.high.toFixed(1)}), ${sourceOf(zones.length)}.`,
    assumptions: [
      `The beam is on for ${percent(beamShare)} of the working time; the rest is moving, photographing, checking and cooling.`,
      `Beam time holds a factor of ${FINDING_FACTOR} for finding the setting and for what is treated twice.`,
      `The chance that this machine reaches the target on such a surface at all is about ${percent(curves.reachableShare)}; the range holds if it does.`,
      'Access, screens, extraction, waste and coating are not in it unless they are in the set-up hours.',
    ],
  });
}

const sourceOf = (zones: number): string =>
  zones === 0
    ? 'from common practice alone: a trial on the real surface narrows this most'
    : `learned from ${zones} earlier ${zones === 1 ? 'zone' : 'zones'} of this kind`;

const scaled = ({ value, low, high }: Measured, factor: number, plus: number): Measured =>
  measured(value * factor + plus, low * factor + plus, high * factor + plus);
