import { surfacePoint } from '../../domain/index.ts';
import type { SurfacePoint } from '../../domain/index.ts';
import { photoDerivative, toPhotoPixel } from '../geometry/photo-map.ts';
import { luminanceSampler } from '../raster/luminance-sampler.ts';
import type { LuminanceSampler } from '../raster/luminance-sampler.ts';
import type { EncodedRgbRaster } from '../raster/rgb-raster.ts';
import type { LocatedCard } from './locate-card.ts';
import { squareCorners } from './refine-square.ts';

const PROFILES_PER_SIDE = 8;
/** Part of a side, from each end, that is left out: corners are rounded. */
const END_MARGIN = 0.2;
const STEP_PX = 0.25;
/** Part of a marker's module that is plain on both sides of its outer edge. */
const REACH_MODULES = 0.8;
/** Part of a profile at each end that tells how dark and how bright the sides are. */
const PLATEAU_PART = 0.15;
/** A shorter reach than this cannot tell sharp from soft, px. */
const LEAST_REACH_PX = 2;
const LEAST_PROFILES = 8;
/** What linear interpolation between pixels adds itself: variance of a triangle of half width 1, px^2. */
const INTERPOLATION_VARIANCE = 1 / 6;
/** Where the sum of a Gaussian stands one standard deviation to either side of its middle. */
const [ONE_BELOW, ONE_ABOVE] = [0.1587, 0.8413];

/**
 * How soft the printed edges of the markers look: standard deviation of the blur (lens, focus, motion, file) as a Gaussian, px of
 * the photo, from the distance between 16 % and 84 % of each black-white step in linear light. A hand's shake blurs one
 * direction only, so the two directions of the card are told apart and the softer one counts. Below 0.5
 * is as sharp as a sensor gets; it is told too small where the blur is wider than a module.
 * @returns null where too few edges can be read
 */
export function cardEdgeBlurPx(photo: EncodedRgbRaster, { card, map }: LocatedCard): number | null {
  const luminance = luminanceSampler(photo);
  const byDirection: [number[], number[]] = [[], []];
  for (const { area, modules } of card.markers) {
    const corners = squareCorners(area);
    const reachMm = (area.width / modules) * REACH_MODULES;
    for (let side = 0; side < 4; side++) {
      const [from, to] = [corners[side], corners[(side + 1) % 4]];
      for (let i = 0; i < PROFILES_PER_SIDE; i++) {
        const t = END_MARGIN + ((1 - 2 * END_MARGIN) * (i + 0.5)) / PROFILES_PER_SIDE;
        const at = surfacePoint(from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1]));
        const sigma = edgeSigma(luminance, { map, at, outwards: outwardsOf(side), reachMm });
        if (sigma !== null) byDirection[side % 2].push(sigma);
      }
    }
  }
  const medians = byDirection.map(median);
  const [upright, level] = medians;
  return upright === null || level === null ? null : Math.max(upright, level);
}

/** Sides run clockwise from the top left corner, y down. */
const outwardsOf = (side: number): readonly [number, number] =>
  (
    [
      [0, -1],
      [1, 0],
      [0, 1],
      [-1, 0],
    ] as const
  )[side];

interface Edge {
  readonly map: LocatedCard['map'];
  readonly at: SurfacePoint;
  /** Unit vector on the card. */
  readonly outwards: readonly [number, number];
  readonly reachMm: number;
}

/** Of one profile from the dark inside to the bright outside, px along the profile. */
function edgeSigma(luminance: LuminanceSampler, { map, at, outwards, reachMm }: Edge): number | null {
  const [x, y] = toPhotoPixel(map, at);
  const [a, b, c, d] = photoDerivative(map, at);
  const [dx, dy] = [a * outwards[0] + b * outwards[1], c * outwards[0] + d * outwards[1]];
  const pxPerMm = Math.hypot(dx, dy);
  const reach = reachMm * pxPerMm;
  if (reach < LEAST_REACH_PX) return null;
  const steps = Math.floor(reach / STEP_PX);
  const profile = Array.from({ length: 2 * steps + 1 }, (_, k) => {
    const along = ((k - steps) * STEP_PX) / pxPerMm;
    return luminance(x + dx * along, y + dy * along);
  });
  const plateau = Math.max(2, Math.round(PLATEAU_PART * profile.length));
  const dark = mean(profile.slice(0, plateau));
  const bright = mean(profile.slice(-plateau));
  // Outside the photo (NaN), hidden or glared edges show no such step.
  if (!(bright > 2 * dark)) return null;
  const low = crossing(profile, dark + ONE_BELOW * (bright - dark));
  const high = crossing(profile, dark + ONE_ABOVE * (bright - dark));
  if (low === null || high === null || high < low) return null;
  return Math.sqrt(Math.max(0, (((high - low) * STEP_PX) / 2) ** 2 - INTERPOLATION_VARIANCE));
}

/** Where the profile last rises through a level, in samples. */
function crossing(profile: readonly number[], level: number): number | null {
  for (let k = profile.length - 1; k > 0; k--) {
    if (profile[k - 1] < level && profile[k] >= level) {
      return k - 1 + (level - profile[k - 1]) / (profile[k] - profile[k - 1]);
    }
  }
  return null;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

function median(values: number[]): number | null {
  if (values.length < LEAST_PROFILES) return null;
  return values.sort((p, q) => p - q)[values.length >> 1];
}
