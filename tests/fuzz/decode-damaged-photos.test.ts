import { describe, expect, it } from 'vitest';
import {
  fixture,
  PHOTO_FIXTURE_NAMES,
  randomStream,
  type FixtureName,
  type RandomStream,
} from '../../fixtures/index.ts';
import { sharpPhotoDecoder } from '../../server/adapters/image/sharp-photo-decoder.ts';
import { FAULT_CODES } from '../../server/domain/index.ts';

const SEED = 90210;
/** A HEIC is decoded on a thread of its own, which takes about 0.2 s to start. */
const RUNS = { quick: 30, slow: 4 } as const;
const MOST_GROWTH_BYTES = 200 * 1024 * 1024;
const LONGEST_MS = 20_000;

const decoder = sharpPhotoDecoder();

/** Anywhere, or within the last bytes, where an interrupted copy is hardest to notice. */
function cutShort(file: Buffer, random: RandomStream): Buffer {
  const length = random.chance(0.4) ? file.length - random.integer(1, 40) : random.integer(0, file.length - 1);
  return file.subarray(0, Math.max(0, length));
}

/** One to eight bytes changed, half of the time among the headers. */
function flipBytes(file: Buffer, random: RandomStream): Buffer {
  const damaged = Buffer.from(file);
  const reach = random.chance(0.5) ? Math.min(700, file.length) : file.length;
  for (let change = random.integer(1, 8); change > 0; change -= 1) {
    const at = random.integer(0, reach - 1);
    damaged[at] = random.chance(0.3) ? random.pick([0, 1, 127, 128, 255]) : damaged[at] ^ (1 << random.integer(0, 7));
  }
  return damaged;
}

async function verdictOn(file: Buffer): Promise<string> {
  const started = performance.now();
  const outcome = await decoder.decode(file);
  expect(performance.now() - started).toBeLessThan(LONGEST_MS);
  if (!outcome.ok) {
    expect(FAULT_CODES).toContain(outcome.fault.code);
    return outcome.fault.code;
  }
  const { width, height, pixels } = outcome.value.raster;
  expect(pixels).toHaveLength(3 * width * height);
  return 'decoded';
}

const runsFor = (name: FixtureName): number => (name.endsWith('.heic') ? RUNS.slow : RUNS.quick);

describe('sharpPhotoDecoder under damage', () => {
  it('refuses every photo that is cut short, wherever the cut is', { timeout: 300_000 }, async () => {
    const random = randomStream(SEED).branch('cut');
    for (const name of PHOTO_FIXTURE_NAMES) {
      // Here the cut may fall into the appendix, which does not belong to the picture.
      if (name === 'card-appendix.jpg') continue;
      const file = fixture(name).read();
      for (let run = runsFor(name); run > 0; run -= 1) {
        const cut = cutShort(file, random);
        expect(`${name} cut at ${cut.length}: ${await verdictOn(cut)}`).not.toMatch(/decoded$/);
      }
    }
  });

  it('answers flipped bytes with a raster or a fault, in bounded time and memory', { timeout: 300_000 }, async () => {
    const random = randomStream(SEED).branch('flip');
    // The first decoding loads the codecs, which is no growth.
    for (const name of ['card.avif', 'card.heic', 'card-p3-16bit.png'] as const) await verdictOn(fixture(name).read());
    const before = process.memoryUsage().rss;
    let peak = before;
    for (const name of PHOTO_FIXTURE_NAMES) {
      const file = fixture(name).read();
      for (let run = runsFor(name); run > 0; run -= 1) {
        await verdictOn(flipBytes(file, random));
        peak = Math.max(peak, process.memoryUsage().rss);
      }
    }
    expect(peak - before).toBeLessThan(MOST_GROWTH_BYTES);
  });
});
