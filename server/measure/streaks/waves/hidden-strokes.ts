import { powerNear, strongestWithin } from './spectral-peaks.ts';
import type { WaveVector } from './stripe-blocks.ts';
import type { StripeSpectrum } from './stripe-spectrum.ts';
import { angleBetween, meanOfFamilies } from './zigzag.ts';

/** Bins from the middle of a spectrum and from its edge; what lies nearer is not told. */
const LEAST_BINS = 2;

/**
 * Strokes of a zigzag of which one wave is known. Where cells are too small to part its two families, only the stronger one can be
 * followed; the spectrum of a whole tile shows the other as a peak of its own.
 *
 * Both are the two families, unless longer ones are there: then they are the strokes twice, seen a little to either side of them,
 * or the strokes themselves and one of their sides.
 *
 * In 230 zones of rendered scenes in which streaks are found it changes what two are told by, and of 60 strong zigzags of another
 * renderer six: all from about twice the spacing, 5 to 27 degrees askew, to the true one.
 *
 * @param own spectrum that the wave was found in
 * @param all spectra in which longer waves may show
 * @returns wave vector of the strokes; null where nothing leans against the wave, or the wave is the strokes
 */
export function hiddenStrokes(
  wave: WaveVector,
  own: StripeSpectrum,
  all: readonly StripeSpectrum[],
): WaveVector | null {
  const other = otherSide(wave, own);
  if (other === null) return null;
  const sum = meanOfFamilies(wave, other);
  if (!all.some((spectrum) => hasLongerFamily(spectrum, wave, other))) return sum;
  return isFlanked(wave, other, own) ? null : { kx: sum.kx / 2, ky: sum.ky / 2 };
}

/**
 * Where the other side of a zigzag stands: angles between both, in radians, share by which their wave numbers may differ, and how
 * strong it is at least, over its background and as part of the known one.
 */
const OTHER_SIDE = { least: Math.PI / 15, most: Math.PI / 2.55, spacing: 0.2, prominence: 8, power: 0.4 } as const;

function otherSide(wave: WaveVector, spectrum: StripeSpectrum): WaveVector | null {
  const perMm = Math.hypot(wave.kx, wave.ky);
  const mostPerMm = perMm * (1 + OTHER_SIDE.spacing);
  if (perMm < LEAST_BINS * spectrum.binPerMm || mostPerMm > (spectrum.side / 2 - LEAST_BINS) * spectrum.binPerMm) {
    return null;
  }
  const isThere = (place: WaveVector): boolean => {
    const ratio = Math.hypot(place.kx, place.ky) / perMm;
    const turn = angleBetween(wave, place);
    const isAhead = place.kx * wave.kx + place.ky * wave.ky > 0;
    const isAsLong = ratio < 1 + OTHER_SIDE.spacing && ratio > 1 / (1 + OTHER_SIDE.spacing);
    return isAhead && isAsLong && turn > OTHER_SIDE.least && turn < OTHER_SIDE.most;
  };
  const power = OTHER_SIDE.power * powerNear(spectrum, wave);
  return strongestWithin(spectrum, { mostPerMm, isThere, least: { ...OTHER_SIDE, power } })?.wave ?? null;
}

/**
 * Where the families stand if two waves are the strokes twice, at half the wave number that both share: share by which they may miss
 * it, how much further along they may lie than the two, and how strong they are at least. A bin more is always allowed.
 */
const LONGER = { across: 0.1, along: 1.3, prominence: 5, power: 0.2 } as const;

function hasLongerFamily(spectrum: StripeSpectrum, p: WaveVector, q: WaveVector): boolean {
  const { binPerMm } = spectrum;
  const [sx, sy] = [p.kx + q.kx, p.ky + q.ky];
  const sum = Math.hypot(sx, sy);
  const half = sum / 4;
  if (half < LEAST_BINS * binPerMm) return false;
  const most = {
    across: Math.max(binPerMm, LONGER.across * half),
    along: binPerMm + (LONGER.along * Math.abs((p.kx - q.kx) * sy - (p.ky - q.ky) * sx)) / (2 * sum),
  };
  const isThere = ({ kx, ky }: WaveVector): boolean =>
    Math.abs((kx * sx + ky * sy) / sum - half) < most.across && Math.abs(kx * sy - ky * sx) / sum < most.along;
  const mostPerMm = Math.hypot(half + most.across, most.along);
  const power = LONGER.power * powerNear(spectrum, p);
  return strongestWithin(spectrum, { mostPerMm, isThere, least: { ...LONGER, power } }) !== null;
}

/** What stands on the one side of the strokes stands on their other side too, with this part of its power at least. */
const FLANK_POWER = 0.3;

function isFlanked(wave: WaveVector, side: WaveVector, spectrum: StripeSpectrum): boolean {
  const twice = (2 * (wave.kx * side.kx + wave.ky * side.ky)) / (wave.kx ** 2 + wave.ky ** 2);
  const mirrored = { kx: twice * wave.kx - side.kx, ky: twice * wave.ky - side.ky };
  return powerNear(spectrum, mirrored) > FLANK_POWER * powerNear(spectrum, side);
}
