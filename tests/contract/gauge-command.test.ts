import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GaugeResult, GaugeStudy } from '../../server/domain/index.ts';
import { asPng, platePhoto, RUST, STEEL } from '../support/plate-photo.ts';
import { runCommand } from '../support/run-command.ts';

/** Beside the card, wholly in view in every photo. */
const OUTLINE = 'mm:0,110,140,160';
/** Every so many millimetres a stripe of rust, so wide. */
const ZONES = [
  { zone: 'clean', everyMm: 20, rustMm: 2 },
  { zone: 'rusty', everyMm: 20, rustMm: 8 },
] as const;
const OPERATORS = ['Finch', 'Wren'] as const;

interface PhotoOfStudy {
  readonly operator: string;
  readonly zone: string;
  readonly photo: string;
  readonly outline: string;
}

let folder: string;
let photos: PhotoOfStudy[];

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'bareplate-gauge-'));
  photos = [];
  for (const { zone, everyMm, rustMm } of ZONES) {
    for (const [repeat, tilt] of [0.1, 0.22].entries()) {
      const plate = (x: number): typeof RUST => (((x % everyMm) + everyMm) % everyMm < rustMm ? RUST : STEEL);
      const picture = await asPng(await platePhoto({ plate, tilt, seed: repeat + 1 }));
      for (const [o, operator] of OPERATORS.entries()) {
        const photo = `${operator}-${zone}-${repeat}.jpg`;
        await writeFile(
          join(folder, photo),
          await sharp(picture)
            .jpeg({ quality: 95 - 10 * o })
            .toBuffer(),
        );
        photos.push({ operator, zone, photo, outline: OUTLINE });
      }
    }
  }
}, 60_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

const run = async (study: unknown): ReturnType<typeof runCommand> => {
  const file = join(folder, 'study.json');
  await writeFile(file, JSON.stringify(study));
  return runCommand('gauge', '--in', file, '--segmenter', 'colour');
};
const studyOf = (taken: readonly PhotoOfStudy[]) => ({
  schema: 'bareplate/gauge-photos@1',
  quantity: 'residueFraction',
  toleranceWidth: 0.2,
  photos: taken,
});

describe('a gauge study by photos', () => {
  it('measures each photo and splits the spread as it does for values measured elsewhere', async () => {
    const { exitCode, stdout } = await run(studyOf(photos));
    expect(exitCode).toBe(0);
    const { measurements, ...result } = JSON.parse(stdout) as GaugeResult & Pick<GaugeStudy, 'measurements'>;
    expect(result).toMatchObject({ operators: 2, zones: 2, repeats: 2 });
    expect(result.remarks.join()).not.toContain('No card');
    // Drawn: 2 of 20 mm and 8 of 20 mm.
    const meanOf = (zone: string): number =>
      measurements.filter((one) => one.zone === zone).reduce((sum, { value }) => sum + value / 4, 0);
    expect(meanOf('clean')).toBeCloseTo(0.1, 1);
    expect(meanOf('rusty')).toBeCloseTo(0.4, 1);
    expect(result.spread.zones.standardDeviation).toBeGreaterThan(5 * result.spread.gauge.standardDeviation);
    const again = await run({ ...studyOf([]), schema: 'bareplate/gauge-study@1', measurements });
    expect(JSON.parse(again.stdout)).toEqual(result);
  }, 60_000);

  it('refuses a photo that repeats nothing, one that is not there, and a study that is not balanced', async () => {
    const [first, ...others] = photos;
    const twice = await run(studyOf([first, { ...others[0], photo: first.photo }, ...others.slice(1)]));
    expect([twice.exitCode, twice.stderr]).toEqual([3, expect.stringContaining('so it repeats nothing')]);
    const absent = await run(studyOf([{ ...first, photo: 'nowhere.png' }, ...others]));
    expect([absent.exitCode, absent.stderr]).toEqual([3, expect.stringContaining('nowhere.png')]);
    const few = await run(studyOf(others));
    expect([few.exitCode, few.stderr]).toEqual([3, expect.stringContaining('"photos"')]);
  }, 60_000);
});
