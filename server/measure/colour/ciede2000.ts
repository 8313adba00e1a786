import type { Lab } from './cie-lab.ts';

const POW25_7 = 25 ** 7;
const RADIANS_PER_DEGREE = Math.PI / 180;
/**
 * Hues this close to half a turn apart count as exactly half a turn: rounding would otherwise pick the branch. 1e-9
 * rad lies far above rounding and far below the nearest published pair (number 9 of [SHARMA2005], 2e-5 rad off).
 */
const HALF_TURN = Math.PI + 1e-9;

/** sqrt(C^7 / (C^7 + 25^7)): 0 for greys to 1 for strong colours. */
function chromaStep(chroma: number): number {
  const c2 = chroma * chroma;
  const c7 = c2 * c2 * c2 * chroma;
  return Math.sqrt(c7 / (c7 + POW25_7));
}

/** How much a* is stretched for greyish colours: factor 1..1.5. */
const greyStretch = (chroma: number): number => 1.5 - 0.5 * chromaStep(chroma);

/** Math.hypot guards against overflow, which Lab cannot reach, and costs many times more. */
const chromaOf = (a: number, b: number): number => Math.sqrt(a * a + b * b);

/** Hue of (a', b) in 0..2 pi; 0 for a grey, which has none. */
function hueOf(b: number, stretchedA: number): number {
  if (b === 0 && stretchedA === 0) return 0;
  const hue = Math.atan2(b, stretchedA);
  return hue < 0 ? hue + 2 * Math.PI : hue;
}

/** The fixed phases of the hue weight, as (cosine, sine). */
const phase = (degrees: number): readonly [number, number] => [
  Math.cos(degrees * RADIANS_PER_DEGREE),
  Math.sin(degrees * RADIANS_PER_DEGREE),
];
const [COS_30, SIN_30] = phase(30);
const [COS_6, SIN_6] = phase(6);
const [COS_63, SIN_63] = phase(63);

/**
 * T = 1 - 0.17 cos(h - 30) + 0.24 cos 2h + 0.32 cos(3h + 6) - 0.20 cos(4h - 63), h in radians, the multiples of h by
 * the angle-sum rules: one sine and one cosine in place of four cosines.
 */
function hueWeight(hue: number): number {
  const c1 = Math.cos(hue);
  const s1 = Math.sin(hue);
  const c2 = c1 * c1 - s1 * s1;
  const s2 = 2 * s1 * c1;
  const c3 = c2 * c1 - s2 * s1;
  const s3 = s2 * c1 + c2 * s1;
  const c4 = c2 * c2 - s2 * s2;
  const s4 = 2 * s2 * c2;
  return (
    1 -
    0.17 * (c1 * COS_30 + s1 * SIN_30) +
    0.24 * c2 +
    0.32 * (c3 * COS_6 - s3 * SIN_6) -
    0.2 * (c4 * COS_63 + s4 * SIN_63)
  );
}

function lightnessScale(meanL: number): number {
  const square = (meanL - 50) * (meanL - 50);
  return 1 + (0.015 * square) / Math.sqrt(20 + square);
}

/** R_T, the chroma-hue interplay in the blues; between -1.74 and 0, so the sum of squares stays positive. */
function blueRotation(meanChroma: number, meanHue: number): number {
  const away = (meanHue / RADIANS_PER_DEGREE - 275) / 25;
  const turn = 60 * RADIANS_PER_DEGREE * Math.exp(-away * away);
  return -2 * chromaStep(meanChroma) * Math.sin(turn);
}

/**
 * Colour difference CIEDE2000 with k_L = k_C = k_H = 1.
 *
 * | in                   | range                                          |
 * | L*                   | 0..100 (slightly outside is carried on)        |
 * | a*, b*               | any finite, usually -128..128; one white for both |
 * | out: difference      | 0 and up; 1 is about just noticeable           |
 *
 * Meant for differences up to about 5; larger ones keep their order only roughly. Hues exactly half a turn apart have
 * two mean hues; the arithmetic mean is taken (the "not more than 180 degrees" branch), within {@link HALF_TURN}. The
 * formula jumps there: pairs 10 and 11 of the source, a ten-thousandth apart, give 7.1792 and 7.2195. A grey has no
 * hue: the mean hue is then the other colour's. Symmetric in its arguments; not a metric (the triangle inequality can
 * fail).
 * Source: [SHARMA2005].
 */
export function ciede2000(first: Lab, second: Lab): number {
  const stretch = greyStretch((chromaOf(first.a, first.b) + chromaOf(second.a, second.b)) / 2);
  const a1 = stretch * first.a;
  const a2 = stretch * second.a;
  const chroma1 = chromaOf(a1, first.b);
  const chroma2 = chromaOf(a2, second.b);
  const hue1 = hueOf(first.b, a1);
  const hue2 = hueOf(second.b, a2);

  let hueStep = 0;
  let meanHue = hue1 + hue2;
  if (chroma1 * chroma2 !== 0) {
    hueStep = hue2 - hue1;
    meanHue /= 2;
    if (Math.abs(hueStep) > HALF_TURN) {
      hueStep += hueStep > 0 ? -2 * Math.PI : 2 * Math.PI;
      meanHue += meanHue < Math.PI ? Math.PI : -Math.PI;
    }
  }
  const meanChroma = (chroma1 + chroma2) / 2;
  const lightness = (second.L - first.L) / lightnessScale((first.L + second.L) / 2);
  const chroma = (chroma2 - chroma1) / (1 + 0.045 * meanChroma);
  const hue =
    (2 * Math.sqrt(chroma1 * chroma2) * Math.sin(hueStep / 2)) / (1 + 0.015 * meanChroma * hueWeight(meanHue));
  return Math.sqrt(
    lightness * lightness + chroma * chroma + hue * hue + blueRotation(meanChroma, meanHue) * chroma * hue,
  );
}

/** {@link ciede2000} from one fixed colour, for loops over pixels: nothing is allocated per call. */
export function ciede2000From(reference: Lab): (L: number, a: number, b: number) => number {
  const other = { L: 0, a: 0, b: 0 };
  return (L, a, b) => {
    other.L = L;
    other.a = a;
    other.b = b;
    return ciede2000(reference, other);
  };
}

/**
 * Local metric of CIEDE2000: the symmetric matrix G with difference^2 = d G d for a small step d = (dL, da, db) away
 * from `at`, centred on it. Row-major 3 x 3 over L, a, b; L does not mix with a and b. Within about 1 % for steps that
 * are small against the chroma (or from a grey, where it is exact to second order).
 * Source: the quadratic form of [SHARMA2005] taken at one point; its stretch of a* is common to both colours and so
 * needs no derivative.
 */
export function ciede2000Metric(at: Lab, out: Float64Array = new Float64Array(9)): Float64Array {
  const stretch = greyStretch(chromaOf(at.a, at.b));
  const a = stretch * at.a;
  const chroma = chromaOf(a, at.b);
  const [cosine, sine] = chroma === 0 ? [1, 0] : [a / chroma, at.b / chroma];
  const hue = hueOf(at.b, a);
  const inChroma = 1 / (1 + 0.045 * chroma);
  const inHue = 1 / (1 + 0.015 * chroma * hueWeight(hue));
  const mixed = blueRotation(chroma, hue) * inChroma * inHue;
  const c2 = inChroma * inChroma;
  const h2 = inHue * inHue;
  out.fill(0);
  out[0] = 1 / lightnessScale(at.L) ** 2;
  out[4] = stretch * stretch * (cosine * cosine * c2 + sine * sine * h2 - cosine * sine * mixed);
  out[8] = sine * sine * c2 + cosine * cosine * h2 + cosine * sine * mixed;
  out[5] = stretch * (cosine * sine * (c2 - h2) + ((cosine * cosine - sine * sine) / 2) * mixed);
  out[7] = out[5];
  return out;
}
