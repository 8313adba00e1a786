import { describe, expect, it } from 'vitest';
import { openCvKernel } from '../../../../server/adapters/vision/open-cv-kernel.ts';
import { moveRigidly } from '../../../../server/measure/geometry/fit-rigid-motion.ts';
import type { RigidMotion } from '../../../../server/measure/geometry/fit-rigid-motion.ts';
import { registerPhotos } from '../../../../server/measure/geometry/register-photos.ts';
import type { RegisteredPhoto } from '../../../../server/measure/geometry/register-photos.ts';
import { pictureOfCard, pinholeView } from '../../../support/picture-of-card.ts';
import { placedCard } from '../../../support/placed-card.ts';
import { seededRandom } from '../../../support/seeded-random.ts';

const kernel = openCvKernel();
const size = { width: 760, height: 600 };
const STEP_MM = 0.5;
const SIDE = 1400;

/** Plates with marks: grey with a few hundred dark and bright spots, looked up from a raster over 700 x 700 mm. */
function spottedPlate(seed: number): (x: number, y: number) => number {
  const random = seededRandom(seed);
  const light = new Float32Array(SIDE * SIDE).fill(0.22);
  for (let spot = 0; spot < 1500; spot++) {
    const [cx, cy, radius] = [SIDE * random(), SIDE * random(), 2 + 8 * random()];
    const value = random() < 0.5 ? 0.06 : 0.5;
    for (let y = Math.max(0, Math.floor(cy - radius)); y < Math.min(SIDE, cy + radius); y++) {
      for (let x = Math.max(0, Math.floor(cx - radius)); x < Math.min(SIDE, cx + radius); x++) {
        if ((x - cx) ** 2 + (y - cy) ** 2 < radius * radius) light[y * SIDE + x] = value;
      }
    }
  }
  return (x, y) => {
    const [column, row] = [Math.floor(x / STEP_MM + SIDE / 2), Math.floor(y / STEP_MM + SIDE / 2)];
    return column >= 0 && row >= 0 && column < SIDE && row < SIDE ? light[row * SIDE + column] : 0.22;
  };
}

interface Shot {
  readonly plate: (x: number, y: number) => number;
  /** From this photo's card frame to the plate. */
  readonly motion: RigidMotion;
  readonly tilt: number;
}

async function photoOf({ plate, motion, tilt }: Shot): Promise<RegisteredPhoto> {
  const toPhoto = pinholeView({ ...size, cardWidthPx: 260, tilt, azimuth: 0.6, roll: 0, focalPx: 560 });
  const paint = (x: number, y: number, light: number): number =>
    x >= 0 && y >= 0 && x < 152.4 && y < 101.6 ? light : plate(...moveRigidly(motion, [x, y]));
  return { photo: await pictureOfCard({ ...size, toPhoto, paint }), located: placedCard(toPhoto, size) };
}

const STILL: RigidMotion = { angle: 0, shift: [0, 0] };
const plate = spottedPlate(1);
const before = photoOf({ plate, motion: STILL, tilt: 0.25 });

describe('bringing the after photo onto the before photo', () => {
  it('recovers how the card was laid down anew', async () => {
    const motion: RigidMotion = { angle: 0.15, shift: [22, -31] };
    const after = await photoOf({ plate, motion, tilt: 0.1 });
    const found = registerPhotos(await before, after, kernel);
    expect(found).not.toBeNull();
    if (found === null) return;
    for (const corner of [
      [160, 0],
      [260, 90],
      [0, 150],
    ] as const) {
      const [x, y] = moveRigidly(found.motion, corner);
      const [tx, ty] = moveRigidly(motion, corner);
      expect(Math.hypot(x - tx, y - ty)).toBeLessThan(0.8);
    }
    expect(found.marksMatched).toBeGreaterThanOrEqual(14);
    expect(found.rmsMm).toBeLessThan(1.2);
  });

  it('finds nothing in common between photos of different plates', async () => {
    const after = await photoOf({ plate: spottedPlate(2), motion: STILL, tilt: 0.2 });
    expect(registerPhotos(await before, after, kernel)).toBeNull();
  });

  it('finds nothing where there are no marks, though both photos show the same card', async () => {
    const bare = await photoOf({ plate: () => 0.22, motion: STILL, tilt: 0.2 });
    expect(registerPhotos(bare, bare, kernel)).toBeNull();
  });
});
