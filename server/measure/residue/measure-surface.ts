import { CLASS_CODE, SURFACE_CLASSES, fraction } from '../../domain/index.ts';
import type { Measured, Surface, SurfaceClass } from '../../domain/index.ts';
import { codesOfKnownColour } from '../segmentation/segmentation.ts';
import type { Segmentation } from '../segmentation/segmentation.ts';
import type { SurfaceView } from '../view-surface.ts';
import { measureAppearance } from './measure-appearance.ts';
import type { AppearanceInput } from './measure-appearance.ts';
import { shareInterval } from './share-interval.ts';
import { worstUnitAreas } from './worst-unit-area.ts';
import type { WorstUnitAreas } from './worst-unit-area.ts';

/** The contract's surface, and what grading needs beyond it. */
export interface MeasuredSurface {
  readonly surface: Surface;
  readonly worst: WorstUnitAreas | null;
}

export interface SurfaceNoise {
  readonly lightnessSigma: number;
  readonly noiseAt: AppearanceInput['noiseAt'];
}

/** Length over which the segmenter's errors hang together, mm (px without a scale): specks and rims go wrong as a whole. */
const ERROR_LENGTH = 2;

/**
 * Shares, worst unit area and appearance of a segmented zone. The whole zone is seen, so there is no sampling error; what
 * remains is that pixels are taken for the wrong class. Two parts add up: errors of doubtful spots, which are independent
 * beyond a couple of millimetres (effective sample size, [GRIFFITH2005]), and the segmenter's shared error (colour cast,
 * its own error rates), which is not helped by area.
 */
export function measureSurface(view: SurfaceView, segmentation: Segmentation, noise: SurfaceNoise): MeasuredSurface {
  const { codes, probabilities, shareSigma } = segmentation;
  const tally = tallyCodes(view, codes.values);
  const spots = (tally.measured * view.grid.step ** 2) / (2 * Math.PI * ERROR_LENGTH ** 2);
  const interval = (share: number, doubt: number, sigma: number): Measured =>
    shareInterval(share, Math.hypot(sigma, Math.sqrt(doubt / Math.max(1, spots))));
  const doubts = meanDoubts(codes.values, probabilities, tally.measured);
  const share = (name: SurfaceClass): number => tally.counts[CLASS_CODE[name]] / tally.measured;
  const fractions = Object.fromEntries(
    SURFACE_CLASSES.map((name, k) => [name, interval(share(name), doubts.classes[k], shareSigma[name])]),
  ) as Surface['fractions'];
  const residueShare = share('rust') + share('scale') + share('coating');
  const worst = worstUnitAreas({ grid: view.grid, zone: view.zone, codes });
  return {
    surface: {
      fractions,
      residue: interval(residueShare, doubts.residue, shareSigma.residue),
      appearance: measureAppearance({
        lab: view.lab,
        codes: codesOfKnownColour(segmentation),
        zone: view.zone,
        stepMm: view.grid.unit === 'mm' ? view.grid.step : null,
        ...noise,
      }),
      unmeasuredFraction: fraction(1 - tally.measured / tally.zone),
      ...(segmentation.doubtful === null
        ? {}
        : { doubtfulFraction: fraction(doubtfulShare(segmentation.doubtful.values, tally.measured)) }),
      worstUnitArea: worst?.residue ?? null,
    },
    worst,
  };
}

const doubtfulShare = (doubtful: Uint8Array, measured: number): number =>
  doubtful.reduce((sum, is) => sum + is, 0) / Math.max(1, measured);

function tallyCodes(view: SurfaceView, codes: Uint8Array): { counts: Float64Array; measured: number; zone: number } {
  const counts = new Float64Array(6);
  let zone = 0;
  for (let i = 0; i < codes.length; i++) {
    if (view.zone.values[i] === 0) continue;
    zone++;
    counts[codes[i]]++;
  }
  return { counts, measured: zone - counts[0], zone };
}

/** Mean of p (1 - p) over the measured pixels, per class and for residue against the rest. */
function meanDoubts(
  codes: Uint8Array,
  probabilities: Segmentation['probabilities'],
  measured: number,
): { classes: Float64Array; residue: number } {
  const classes = new Float64Array(5);
  let residue = 0;
  for (let i = 0; i < codes.length; i++) {
    if (codes[i] === 0) continue;
    let body = 0;
    for (let k = 0; k < 5; k++) {
      const p = probabilities[k][i] / 255;
      classes[k] += p * (1 - p);
      if (k >= 2) body += p;
    }
    residue += body * (1 - Math.min(1, body));
  }
  return { classes: classes.map((sum) => sum / measured), residue: residue / measured };
}
