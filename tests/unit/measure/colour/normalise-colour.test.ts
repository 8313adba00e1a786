import { describe, expect, it } from 'vitest';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { applyNormalisation } from '../../../../server/measure/colour/apply-normalisation.ts';
import { ciede2000 } from '../../../../server/measure/colour/ciede2000.ts';
import { linearOfLab } from '../../../../server/measure/colour/known-colour.ts';
import { linearSrgbToLabD50 } from '../../../../server/measure/colour/lab-d50.ts';
import { PLAIN_SRGB, normaliseColour, responseTables } from '../../../../server/measure/colour/normalise-colour.ts';
import type { ColourNormalisation } from '../../../../server/measure/colour/normalise-colour.ts';
import type { PatchSample } from '../../../../server/measure/colour/sample-patches.ts';
import { fieldAt } from '../../../../server/measure/colour/smooth-field.ts';
import { encodeSrgb } from '../../../../server/measure/colour/srgb.ts';
import type { SurfaceGrid } from '../../../../server/measure/geometry/surface-grid.ts';
import { linearRgbRaster } from '../../../../server/measure/raster/rgb-raster.ts';
import type { Camera } from '../../../support/card-samples.ts';
import { samplesUnder, withSample } from '../../../support/card-samples.ts';

type Rgb = readonly [number, number, number];
type Lab = { L: number; a: number; b: number };

const asIs: Camera = (light) => light;
/** A warm cast, a fifth down, and a tone curve that deepens the dark and rolls off the white, as phones do. */
const tone = (light: number): number => (2.1 * Math.max(0, light) ** 1.1) / (Math.max(0, light) + 1.2);
const phone: Camera = ([r, g, b]) => [tone(0.85 * r), tone(0.68 * g), tone(0.48 * b)];
/** A sensor whose channels see a part of each other's light. */
const crosstalk: Camera = ([r, g, b]) => [
  0.5 * (0.84 * r + 0.12 * g + 0.04 * b),
  0.5 * (0.1 * r + 0.82 * g + 0.08 * b),
  0.5 * (0.02 * r + 0.16 * g + 0.82 * b),
];

const labOf = ([r, g, b]: Rgb): Lab => {
  const out: [number, number, number] = [0, 0, 0];
  linearSrgbToLabD50(r, g, b, out);
  return { L: out[0], a: out[1], b: out[2] };
};

/** Sends colours that are not on the card through the camera, 16-bit codes and the normalisation. */
function seenAfterwards(truths: readonly Lab[], camera: Camera, normalisation: ColourNormalisation): Lab[] {
  const tables = responseTables(normalisation, 65535);
  const pixels = new Float32Array(3 * truths.length);
  truths.forEach((truth, i) => {
    camera(linearOfLab(truth), [76.2, 50.8]).forEach((decoded, k) => {
      pixels[3 * i + k] = tables[k][Math.round(65535 * encodeSrgb(decoded))];
    });
  });
  const grid: SurfaceGrid = { unit: 'px', width: truths.length, height: 1, step: 1, origin: [0, 0], angle: 0 };
  const { pixels: light } = applyNormalisation(linearRgbRaster(truths.length, 1, pixels), grid, normalisation);
  return truths.map((_, i) => labOf([light[3 * i], light[3 * i + 1], light[3 * i + 2]]));
}

/** Steel, rust, scale and stain that are on no patch. */
const SURFACE: readonly Lab[] = [
  { L: 62, a: 0, b: 3 },
  { L: 40, a: 18, b: 24 },
  { L: 52, a: 14, b: 34 },
  { L: 29, a: -0.5, b: -5 },
  { L: 71, a: 4, b: 14 },
];
const errors = (seen: readonly Lab[]): number[] => seen.map((lab, i) => ciede2000(lab, SURFACE[i]));
const worst = (seen: readonly Lab[]): number => Math.max(...errors(seen));

describe('colours normalised by the card', () => {
  it('stay as they are in a photo that is right already', () => {
    const normalisation = normaliseColour(samplesUnder(asIs), 'nominal');
    expect(normalisation.model.kind).toBe('balance');
    expect(normalisation.heldOut?.max).toBeLessThan(0.2);
    expect(worst(seenAfterwards(SURFACE, asIs, normalisation))).toBeLessThan(0.2);
    expect(normalisation.leftOut).toEqual([]);
  });

  it('are recovered under a cast, an exposure and a tone curve, on colours the card does not have', () => {
    const samples = samplesUnder(phone);
    const before = SURFACE.map((lab) => labOf(phone(linearOfLab(lab), [76.2, 50.8])));
    expect(worst(before)).toBeGreaterThan(8);
    for (const origin of ['nominal', 'measured'] as const) {
      const normalisation = normaliseColour(samples, origin);
      expect(normalisation.untreated?.median).toBeGreaterThan(6);
      expect(normalisation.heldOut?.median).toBeLessThan(0.8);
      expect(worst(seenAfterwards(SURFACE, phone, normalisation))).toBeLessThan(1.5);
    }
  });

  it('are recovered from a sensor whose channels mix, by more than balance', () => {
    const normalisation = normaliseColour(samplesUnder(crosstalk), 'measured');
    expect(normalisation.model.kind).not.toBe('balance');
    expect(normalisation.heldOut?.median).toBeLessThan(1);
    expect(worst(seenAfterwards(SURFACE, crosstalk, normalisation))).toBeLessThan(1.5);
  });

  it('are recovered under light that falls across the card', () => {
    const slope = [0.0016, -0.0012] as const;
    const sidelit: Camera = (light, [x, y]) => {
      const gain = Math.exp(slope[0] * (x - 76.2) + slope[1] * (y - 50.8));
      return [0.6 * gain * light[0], 0.6 * gain * light[1], 0.6 * gain * light[2]];
    };
    const normalisation = normaliseColour(samplesUnder(sidelit), 'nominal');
    expect(normalisation.response?.logLightPerMm[0]).toBeCloseTo(slope[0], 4);
    expect(normalisation.response?.logLightPerMm[1]).toBeCloseTo(slope[1], 4);
    expect(normalisation.heldOut?.max).toBeLessThan(0.5);
  });

  describe('under a soft shadow that covers half of the card', () => {
    /** From a third of the light right of the edge to all of it left of it, over about 30 mm. */
    const shadow = ([x, y]: readonly [number, number]): number => {
      const across = 0.9 * (x - 80) + 0.44 * (y - 50);
      return 1 - 0.65 / (1 + Math.exp(-across / 7));
    };
    const shaded: Camera = (light, at) => {
      const gain = shadow(at);
      return phone([gain * light[0], gain * light[1], gain * light[2]], at);
    };
    const normalisation = normaliseColour(samplesUnder(shaded), 'nominal');
    /** What grey steel of reflectance 0.3 reads at a place of the card's plane that has so much light. */
    const greyAt = (place: readonly [number, number], gain: number): number => {
      const tables = responseTables(normalisation, 65535);
      const decoded = phone([0.3 * gain, 0.3 * gain, 0.3 * gain], place);
      const pixels = Float32Array.from(decoded, (d, k) => tables[k][Math.round(65535 * encodeSrgb(d))]);
      const grid: SurfaceGrid = { unit: 'mm', width: 1, height: 1, step: 1, origin: place, angle: 0 };
      const { pixels: light } = applyNormalisation(linearRgbRaster(1, 1, pixels), grid, normalisation);
      return labOf([light[0], light[1], light[2]]).L;
    };
    // Reflectance 0.3 is L* 61.7: 116 x 0.3^(1/3) - 16 (CIE 15, worked by hand).
    const TRUE_LIGHTNESS = 61.7;

    it('patches on both sides are read', () => {
      expect(normalisation.response?.shade).not.toBeNull();
      expect(normalisation.heldOut?.median).toBeLessThan(1.5);
      expect(normalisation.leftOut.filter(({ id }) => !id.startsWith('paper'))).toEqual([]);
    });

    it('the surface beside each side is read in that side’s light', () => {
      expect(Math.abs(greyAt([-40, 30], shadow([0, 30])) - TRUE_LIGHTNESS)).toBeLessThan(2.5);
      expect(Math.abs(greyAt([200, 70], shadow([152, 70])) - TRUE_LIGHTNESS)).toBeLessThan(2.5);
    });
  });

  describe('with a lamp mirrored in a glossy print', () => {
    /** Reflectance on top of the print's own: 0.12 in the middle of a soft spot of about 60 mm. */
    const mirrored = ([x, y]: readonly [number, number]): number =>
      0.12 * Math.exp(-((x - 105) ** 2 + (y - 60) ** 2) / (2 * 30 ** 2));
    const glossy: Camera = (light, at) => {
      const veil = mirrored(at);
      return phone([light[0] + veil, light[1] + veil, light[2] + veil], at);
    };
    const normalisation = normaliseColour(samplesUnder(glossy), 'nominal');

    it('patches under it are read as those beside it', () => {
      const { response, heldOut, leftOut } = normalisation;
      expect(response?.shade).toBeNull();
      expect(response?.veil).not.toBeNull();
      for (const at of [
        [105, 60],
        [60, 30],
        [20, 20],
      ] as const) {
        const veil = response?.veil;
        expect(Math.abs((veil ? fieldAt(veil, at) : 0) - mirrored(at))).toBeLessThan(0.05);
      }
      // With light that is a gradient alone they are 2.1 and 10.
      expect(heldOut?.median).toBeLessThan(1);
      expect(heldOut?.p95).toBeLessThan(4);
      expect(leftOut).toEqual([]);
    });

    it('the surface, which does not lie under it, is read as it is', () => {
      const steel = seenAfterwards(SURFACE, phone, normalisation);
      const plain = seenAfterwards(SURFACE, phone, normaliseColour(samplesUnder(phone), 'nominal'));
      steel.forEach((lab, i) => {
        expect(ciede2000(lab, plain[i])).toBeLessThan(1);
      });
    });
  });

  it('take light for a gradient where nothing speaks for more', () => {
    expect(normaliseColour(samplesUnder(phone), 'nominal').response).toMatchObject({ shade: null, veil: null });
    const soiled = withSample(samplesUnder(phone), 'A3', (sample) => ({
      ...sample,
      decoded: [0.4 * sample.decoded[0], 0.4 * sample.decoded[1], 0.4 * sample.decoded[2]],
    }));
    expect(normaliseColour(soiled, 'nominal').response).toMatchObject({ shade: null, veil: null });
  });

  it('do not depend on the exposure', () => {
    const at = (gain: number): Lab[] => {
      const camera: Camera = ([r, g, b]) => phone([gain * r, gain * g, gain * b], [0, 0]);
      return seenAfterwards(SURFACE, camera, normaliseColour(samplesUnder(camera), 'nominal'));
    };
    const [dark, bright] = [at(0.5), at(1)];
    dark.forEach((lab, i) => {
      expect(ciede2000(lab, bright[i])).toBeLessThan(1);
    });
  });

  it('do not depend on the order of the patches, but for which are held out together', () => {
    const samples = samplesUnder(phone);
    const forwards = normaliseColour(samples, 'nominal');
    const backwards = normaliseColour([...samples].reverse(), 'nominal');
    expect(backwards.model.kind).toBe(forwards.model.kind);
    const [a, b] = [seenAfterwards(SURFACE, phone, forwards), seenAfterwards(SURFACE, phone, backwards)];
    a.forEach((lab, i) => {
      expect(ciede2000(lab, b[i])).toBeLessThan(0.01);
    });
  });
});

describe('the errors that are reported', () => {
  const samples = samplesUnder(crosstalk);
  /** A strongly coloured patch: it pulls a fit that it takes part in. */
  const pin = samples.find(({ family, lab }) => family === 'gamut' && lab.a > 50) as PatchSample;
  const changed = { L: pin.lab.L + 9, a: pin.lab.a, b: pin.lab.b };

  it('are those of patches that took no part: a changed value does not bend its own prediction', () => {
    const shifted = withSample(samples, pin.id, () => ({ lab: changed }));
    const normalisation = normaliseColour(shifted, 'measured');
    const difference = ciede2000(pin.lab, changed);
    expect(normalisation.leftOut).toEqual([]);
    expect(normalisation.heldOut?.max).toBeGreaterThan(difference - 0.4);
    expect(normalisation.heldOut?.max).toBeLessThan(difference + 0.4);
    // Power of the test: in the fit that it takes part in, the patch does pull its own prediction towards the change.
    const [inSample] = seenAfterwards([pin.lab], crosstalk, normalisation);
    expect(ciede2000(inSample, changed)).toBeLessThan(difference - 1);
  });

  it('are one for each patch, and none for bare paper', () => {
    const normalisation = normaliseColour(samples, 'measured');
    expect(normalisation.heldOutErrors).toHaveLength(referenceCard().patches.length);
  });

  it('are summed up as median, 95 % and largest', () => {
    const { heldOut, heldOutErrors } = normaliseColour(samplesUnder(phone), 'nominal');
    const sorted = [...heldOutErrors].sort((a, b) => a - b);
    expect(heldOut).toEqual({ median: sorted[23], p95: sorted[45], max: sorted[47] });
  });
});

describe('patches that are left out', () => {
  const samples = samplesUnder(phone);
  const id = 'C4';
  const leftOutOf = (change: (sample: PatchSample) => Partial<PatchSample>): ColourNormalisation['leftOut'] =>
    normaliseColour(withSample(samples, id, change), 'nominal').leftOut;
  const times = (factor: number) => (sample: PatchSample) => ({
    decoded: sample.decoded.map((d) => Math.min(0.99, factor * d)) as unknown as Rgb,
  });

  /** The light behind an edge falls to a third. */
  const shadowed = (fromX: number, fromY: number): PatchSample[] => {
    const behind: Camera = ([r, g, b]) => phone([0.3 * r, 0.3 * g, 0.3 * b], [0, 0]);
    return samplesUnder((light, at) => (at[0] > fromX && at[1] > fromY ? behind(light, at) : phone(light, at)));
  };

  it('are clipped ones', () => {
    expect(leftOutOf(() => ({ clippedShare: 0.3 }))).toEqual([{ id, why: 'clipped' }]);
  });

  it('are uneven ones', () => {
    expect(leftOutOf(() => ({ scatter: 1.5 }))).toEqual([{ id, why: 'uneven' }]);
  });

  it('are glared ones: much brighter than they can be', () => {
    expect(leftOutOf(() => ({ decoded: [0.85, 0.85, 0.85] }))).toEqual([{ id, why: 'glare' }]);
  });

  it('are shaded or soiled ones: much darker than they should be', () => {
    expect(leftOutOf(times(0.2))).toEqual([{ id, why: 'shadow or dirt' }]);
  });

  it('do not spoil the rest: a shadow over a corner of the card is left out, and colours hold', () => {
    const normalisation = normaliseColour(shadowed(120, 55), 'nominal');
    const shaded = samples.filter(({ centreMm: [x, y] }) => x > 120 && y > 55).map((sample) => sample.id);
    expect(shaded).toHaveLength(7);
    expect(normalisation.leftOut.length).toBeGreaterThanOrEqual(6);
    for (const { id: left } of normalisation.leftOut) expect(shaded).toContain(left);
    expect(new Set(normalisation.leftOut.map(({ why }) => why))).toEqual(new Set(['shadow or dirt']));
    expect(worst(seenAfterwards(SURFACE, phone, normalisation))).toBeLessThan(2);
  });

  it('are not told apart when half the card is shaded, and then the reported errors say so', () => {
    expect(normaliseColour(shadowed(76, -1), 'nominal').heldOut?.p95).toBeGreaterThan(6);
  });

  it('leave no normalisation when they are nearly all', () => {
    const dark = samples.map((sample) => ({ ...sample, clippedShare: 1 }));
    const normalisation = normaliseColour(dark, 'nominal');
    expect(normalisation.heldOut).toBeNull();
    expect(normalisation.response).toBeNull();
    expect(normalisation.leftOut).toHaveLength(samples.length);
    expect(normaliseColour([], 'nominal')).toEqual(PLAIN_SRGB);
  });
});

describe('tables from code to light', () => {
  it('are plain sRGB without a card', () => {
    const [red, green, blue] = responseTables(PLAIN_SRGB, 255);
    expect(red).toBe(green);
    expect(blue[255]).toBeCloseTo(1, 6);
    expect(red).toHaveLength(256);
  });

  it('rise from code to code whatever the tone curve', () => {
    for (const camera of [asIs, phone, crosstalk]) {
      for (const table of responseTables(normaliseColour(samplesUnder(camera), 'nominal'), 255)) {
        for (let code = 1; code < 256; code++) expect(table[code]).toBeGreaterThan(table[code - 1]);
      }
    }
  });
});
