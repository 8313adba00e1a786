import { kelvinRise, type KelvinRise, type MillimetresPerSecond, type Watts } from '../../domain/index.ts';
import { type HeatProperties } from './steel-properties.ts';

export interface MovingBeam {
  readonly powerW: Watts;
  /** Radius where the irradiance has fallen to 1/e2 of the peak. */
  readonly radiusMm: number;
  readonly speedMmPerS: MillimetresPerSecond;
  readonly absorptivity: number;
}

/** Intervals of Simpson's rule over the half circle; test: doubling them changes no check value by 0.01 K. */
const INTERVALS = 2000;

/**
 * Steady surface temperature rise around a Gaussian spot that moves over a half space, seen from the spot: `alongMm` is
 * ahead of its centre (negative behind), `acrossMm` beside its path. The time integral of [CLINE1977],
 *   (A P / rho c) Int_0^inf 2 / (pi (w2 + 8 alpha t)) (pi alpha t)^-1/2 exp(-2 ((x + v t)2 + y2) / (w2 + 8 alpha t)) dt,
 * is taken with t = w2 tan2(phi) / (8 alpha), which turns it into a bounded integral of a smooth function over 0..pi/2.
 * Constant properties, no melting, no scale layer, thick plate; speed 0 gives the stationary spot. Source: [CLINE1977].
 */
export function movingGaussianTemperatureRise(
  beam: MovingBeam,
  steel: HeatProperties,
  alongMm = 0,
  acrossMm = 0,
): KelvinRise {
  const step = Math.PI / 2 / INTERVALS;
  let sum = 0;
  for (let index = 0; index < INTERVALS; index++) {
    const cosine = Math.cos(index * step);
    const elapsed = (beam.radiusMm ** 2 * Math.tan(index * step) ** 2) / (8 * steel.diffusivityMm2PerS);
    const distance2 = (alongMm + beam.speedMmPerS * elapsed) ** 2 + acrossMm ** 2;
    const weight = index === 0 ? 1 : index % 2 === 1 ? 4 : 2;
    sum += weight * Math.exp((-2 * distance2 * cosine ** 2) / beam.radiusMm ** 2);
  }
  // At phi = pi/2 the moving spot is infinitely far; the stationary one still counts.
  if (beam.speedMmPerS === 0) sum += 1;
  const integral = (sum * step) / 3;
  const stationary = (beam.absorptivity * beam.powerW) / (steel.conductivityWPerMK * beam.radiusMm * 1e-3);
  return kelvinRise((stationary * Math.sqrt(2 / Math.PI) * integral) / Math.PI);
}

/** Where along the path the hottest point is looked for, in radii behind the centre. */
const BEHIND_RADII = { from: 0, to: 1.5, step: 0.02 };

/** Hottest point of {@link movingGaussianTemperatureRise} on the path; it lies up to about half a radius behind the centre. */
export function hottestPoint(beam: MovingBeam, steel: HeatProperties): { rise: KelvinRise; alongMm: number } {
  let best = { rise: movingGaussianTemperatureRise(beam, steel), alongMm: 0 };
  for (let radii = BEHIND_RADII.from; radii <= BEHIND_RADII.to; radii += BEHIND_RADII.step) {
    const alongMm = -radii * beam.radiusMm;
    const rise = movingGaussianTemperatureRise(beam, steel, alongMm);
    if (rise > best.rise) best = { rise, alongMm };
  }
  return best;
}

/** Speed against diffusion, v w / (2 alpha); high values mean a narrow hot skin. Source: [CLINE1977]. */
export const pecletNumber = (beam: Pick<MovingBeam, 'radiusMm' | 'speedMmPerS'>, steel: HeatProperties): number =>
  (beam.speedMmPerS * beam.radiusMm) / (2 * steel.diffusivityMm2PerS);
