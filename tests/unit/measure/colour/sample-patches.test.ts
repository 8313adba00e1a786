import { describe, expect, it } from 'vitest';
import { randomStream } from '../../../../fixtures/index.ts';
import { referenceCard } from '../../../../server/measure/card/card-layout.ts';
import { readCardValues } from '../../../../server/measure/card/read-card-values.ts';
import { cardFields } from '../../../../server/measure/colour/card-fields.ts';
import { linearOfLab } from '../../../../server/measure/colour/known-colour.ts';
import { normaliseColour } from '../../../../server/measure/colour/normalise-colour.ts';
import { samplePatches } from '../../../../server/measure/colour/sample-patches.ts';
import type { PatchSample } from '../../../../server/measure/colour/sample-patches.ts';
import { cardValuesText } from '../../../support/card-values-text.ts';
import { pictureOfCard, pinholeView } from '../../../support/picture-of-card.ts';
import type { CardView } from '../../../support/picture-of-card.ts';
import { placedCard } from '../../../support/placed-card.ts';

const size = { width: 620, height: 460 };
const toPhoto = pinholeView({ ...size, cardWidthPx: 460, tilt: 0.35, azimuth: 0.9, roll: 0.15, focalPx: 450 });
const card = referenceCard();
const fields = cardFields(card, null);

async function samplesOf(view: Partial<CardView> = {}): Promise<PatchSample[]> {
  return samplePatches(await pictureOfCard({ ...size, toPhoto, ...view }), placedCard(toPhoto, size), fields);
}

describe('the fields of the card', () => {
  it('are its 48 patches, and paper wide enough to sample', () => {
    expect(fields.filter(({ family }) => family !== 'paper')).toHaveLength(48);
    const paper = fields.filter(({ family }) => family === 'paper');
    expect(paper.length).toBeGreaterThan(20);
    for (const { area, lab } of paper) {
      expect(Math.min(area.width, area.height)).toBeGreaterThanOrEqual(2);
      expect(lab).toEqual({ L: 100, a: 0, b: 0 });
    }
  });

  it('take measured values, and leave out paper that nobody measured', () => {
    const measured = readCardValues(
      cardValuesText(card, { row: (id, { L, a, b }) => `${id} ${L - 2} ${a} ${b}` }),
      card,
    );
    if (!measured.ok) throw new Error(measured.fault.code);
    const known = cardFields(card, measured.value);
    expect(known).toHaveLength(48);
    known.forEach(({ lab }, i) => {
      expect(lab.L).toBeCloseTo(card.patches[i].nominal.lab.L - 2, 6);
    });
  });

  it('take the paper from where it was measured', () => {
    const paper = { L: 94, a: 0.5, b: -3 };
    const measured = readCardValues(cardValuesText(card, { paper }), card);
    if (!measured.ok) throw new Error(measured.fault.code);
    expect(cardFields(card, measured.value).find(({ family }) => family === 'paper')?.lab).toEqual(paper);
  });
});

describe('sampling the card in a photo', () => {
  it('reads every patch as it was drawn', async () => {
    for (const { family, decoded, lab, clippedShare } of await samplesOf()) {
      if (family === 'paper') continue;
      expect(clippedShare).toBe(0);
      linearOfLab(lab).forEach((light, k) => {
        // Half a code of rounding, and the nominal Lab's own two decimals.
        expect(Math.abs(decoded[k] - light)).toBeLessThan(0.006);
      });
    }
  });

  it('halves with the exposure', async () => {
    const [full, half] = [await samplesOf(), await samplesOf({ exposure: 0.5 })];
    full.forEach((sample, i) => {
      expect(half[i].decoded[1] / sample.decoded[1]).toBeCloseTo(0.5, 1);
    });
  });

  it('says which fields are clipped', async () => {
    const bright = await samplesOf({ exposure: 3 });
    const share = (id: string): number | undefined => bright.find((sample) => sample.id === id)?.clippedShare;
    const lightest = card.patches.find(({ nominal }) => nominal.lab.L > 90)?.id ?? '';
    const darkest = card.patches.find(({ nominal }) => nominal.lab.L < 19)?.id ?? '';
    expect(share(lightest)).toBe(1);
    expect(share(darkest)).toBe(0);
  });

  it('trims specks, and says how uneven a field is', async () => {
    const { area } = card.patches[17];
    const speck = { x: area.x + 5, y: area.y + 5 };
    const dirty = await samplesOf({
      paint: (x, y, light) => (Math.hypot(x - speck.x, y - speck.y) < 1 ? 0.9 * light + 0.4 : light),
    });
    const clean = await samplesOf();
    expect(dirty[17].scatter).toBeGreaterThan(clean[17].scatter + 0.1);
    expect(dirty[17].decoded[1] / clean[17].decoded[1]).toBeCloseTo(1, 1);
  });

  it("does not take the camera's noise for unevenness: a photo of poor light is normalised too", async () => {
    const photo = await pictureOfCard({ ...size, toPhoto, exposure: 0.5 });
    const random = randomStream(5);
    const pixels = Uint8Array.from(photo.pixels, (code) =>
      Math.min(255, Math.max(0, Math.round(code + 18 * random.normal()))),
    );
    const noisy = samplePatches({ ...photo, pixels, maxCode: 255 }, placedCard(toPhoto, size), fields);
    const { heldOut, leftOut } = normaliseColour(noisy, 'nominal');
    expect(leftOut.filter(({ why }) => why === 'uneven').length).toBeLessThan(3);
    expect(heldOut?.median).toBeLessThan(2);
  });

  it('normalises a photo end to end: held-out patches within 1 CIEDE2000, two thirds of a stop down', async () => {
    const { heldOut, untreated } = normaliseColour(await samplesOf({ exposure: 0.6 }), 'nominal');
    expect(untreated?.median).toBeGreaterThan(7);
    expect(heldOut?.median).toBeLessThan(0.5);
    expect(heldOut?.p95).toBeLessThan(1.5);
  });
});
