import { UNIT_AREA_SIDE_MM } from '../domain/index.ts';
import type { Warning } from '../domain/index.ts';
import { BLOCKED } from './geometry/rectify-photo.ts';
import type { SurfaceReading } from './read-surface.ts';
import type { Segmentation } from './segmentation/segmentation.ts';
import type { SurfaceView } from './view-surface.ts';

/** Above these the reader should know. Chosen by us; each is where errors in tests/accuracy begin to grow. */
const COLOUR_ERROR_P95 = 6;
const PATCHES_LEFT_OUT = 8;
const SCALE_SIGMA = 0.01;
const TILT_DEGREES = 40;
const UNMEASURED = 0.2;
const DOUBTFUL = 0.1;
const CLIPPED = 0.2;
/** Photo pixels per mm below which fine texture and specks do not show. */
const COARSE_PX_PER_MM = 2;
/** A sharp edge that is smeared over more than this hides specks and thin stripes, mm. */
const BLUR_MM = 1;

type Warn = (code: string, message: string) => void;

/** What the reader of one photo's numbers has to know. @param role "before" or "after", or the patch's name */
export function readingWarnings(reading: SurfaceReading, role: string): Warning[] {
  const warnings: Warning[] = [];
  const warn: Warn = (code, message) => {
    warnings.push({ code, message: `${role} photo: ${message}` });
  };
  if (reading.photo.card.found) {
    warnOfColour(reading, warn);
    warnOfPlace(reading, warn);
  } else {
    warn(
      'no-card',
      'no reference card is in view, so colours are not normalised, nothing is stated in millimetres and the intervals are wider',
    );
  }
  warnOfArea(reading, warn);
  return warnings;
}

function warnOfColour({ photo }: SurfaceReading, warn: Warn): void {
  const { colourErrorDeltaE00: colour, patchesLeftOut = [] } = photo.card;
  if (colour === null) {
    warn('colour-not-normalised', 'the card is too dark, clipped or covered to normalise colours by it');
  } else if (colour.p95 > COLOUR_ERROR_P95) {
    const error = colour.p95.toFixed(1);
    warn('colour-uncertain', `patches that took no part in the fit are off by up to ${error} CIEDE2000 (95 %)`);
  }
  if (patchesLeftOut.length >= PATCHES_LEFT_OUT) {
    const count = patchesLeftOut.length;
    warn('patches-left-out', `${count} patches of the card are clipped, glared, shadowed or dirty and were left out`);
  }
}

function warnOfPlace({ photo, view, surface }: SurfaceReading, warn: Warn): void {
  const { mmPerPixelRelativeSigma: sigma = 0, tiltDegrees } = photo.card;
  if (sigma > SCALE_SIGMA) {
    warn('scale-uncertain', `the zone lies far from the card: its scale is known to ${(100 * sigma).toFixed(1)} %`);
  }
  if (tiltDegrees !== null && tiltDegrees > TILT_DEGREES) {
    warn('tilted', `taken ${tiltDegrees.toFixed(0)} degrees askew; a squarer view measures better`);
  }
  if ((photo.card.blurMm ?? 0) > BLUR_MM) {
    const width = (photo.card.blurMm ?? 0).toFixed(1);
    warn(
      'blurred',
      `blurred over ${width} mm, so specks and stripes finer than that run together; hold still, let it focus and take it again`,
    );
  }
  if (view.placed.pxPerUnit < COARSE_PX_PER_MM) {
    const pixel = (1 / view.placed.pxPerUnit).toFixed(2);
    warn('coarse', `a pixel covers ${pixel} mm of surface; specks and fine lines under two pixels do not show`);
  }
  if (surface.worstUnitArea === null) {
    const square = `${UNIT_AREA_SIDE_MM} mm square`;
    warn(
      'smaller-than-unit-area',
      `no measured ${square} fits the zone, so the whole zone stands in for the worst one`,
    );
  }
}

function warnOfArea({ surface, view, segmentation }: SurfaceReading, warn: Warn): void {
  const { doubtfulFraction = 0, unmeasuredFraction } = surface;
  if (doubtfulFraction > DOUBTFUL) {
    const part = (100 * doubtfulFraction).toFixed(0);
    warn(
      'doubtful',
      `the colour cross-check reads ${part} % of the zone differently; look at it, and scrape where it matters`,
    );
  }
  if (unmeasuredFraction > UNMEASURED) {
    const part = (100 * unmeasuredFraction).toFixed(0);
    warn('much-unmeasured', `${part} % of the zone is glare, clipped, shadow or blur; the shares are of the rest`);
  }
  const clipped = clippedShare(view, segmentation);
  if (clipped > CLIPPED) {
    const part = (100 * clipped).toFixed(0);
    warn(
      'much-clipped',
      `${part} % of the zone is too bright for its colour to be known; its class is told by that and by what lies round it, and a darker exposure tells more`,
    );
  }
}

/** Share of the zone that has a class though its colour is clipped. */
function clippedShare({ zone }: SurfaceView, { codes, blocked }: Segmentation): number {
  let inside = 0;
  let clipped = 0;
  for (let i = 0; i < zone.values.length; i++) {
    inside += zone.values[i];
    if (codes.values[i] !== 0 && blocked.values[i] === BLOCKED.clipped) clipped++;
  }
  return clipped / Math.max(1, inside);
}
