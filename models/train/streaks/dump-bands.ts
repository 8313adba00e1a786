/**
 * Writes what the search for bands tells of seeded zones, with the truth beside it, for fit-bands.py to learn from.
 *
 *   npx tsx models/train/streaks/dump-bands.ts FIRST_SEED LAST_SEED [STEP] >ROWS.jsonl
 *
 * Zones of rendered photos, half of them composed with ../shared/data where present and half of them with streaks; and test
 * surfaces of another renderer, with brushing, grinding, rolling, welds, shadows and joints.
 */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { photoFromSeed } from '../../../fixtures/generate/composed/photo-from-seed.ts';
import { randomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import type { SceneOptions } from '../../../fixtures/generate/scene/draw-scene.ts';
import { STREAK_KINDS, degreesFromRadians, radians } from '../../../server/domain/index.ts';
import { usableMask } from '../../../server/measure/raster/usable-mask.ts';
import { residueProbabilityOf } from '../../../server/measure/streaks-of-zone.ts';
import { doubtOfForm, signedCandidates } from '../../../server/measure/streaks/bands/detect-bands.ts';
import { nativeSurface } from '../../../server/measure/streaks/native-surface.ts';
import { bandSearches, groundSignal, searchRasters } from '../../../server/measure/streaks/search-rasters.ts';
import type { SurfaceInput } from '../../../server/measure/streaks/streak-finding.ts';
import { readCard, viewSurface } from '../../../server/measure/view-surface.ts';
import { wireTools } from '../../../server/wiring.ts';
import { surfaceZone } from '../../../tests/accuracy/scene-truth.ts';
import { STEEL_GROUNDS, stripedSteel } from '../../../tests/support/striped-steel.ts';

interface Truth {
  readonly contrastDeltaE00: number;
  readonly affectedFraction: number;
  readonly directionDegrees: number;
  readonly pitchMm: number | null;
}

/** Finer stripes are not told apart from the ground, photo pixels. */
const LEAST_PITCH_PX = 8;
const SIZES = [
  { widthMm: 110, heightMm: 95, stepMm: 0.35 },
  { widthMm: 150, heightMm: 120, stepMm: 0.3 },
  { widthMm: 190, heightMm: 140, stepMm: 0.3 },
] as const;

/** @param angle radians; @returns degrees of [0, 180) */
const directionOf = (angle: number): number => halfTurn(degreesFromRadians(radians(angle)));
const halfTurn = (degrees: number): number => ((degrees % 180) + 180) % 180;

const shared = fileURLToPath(new URL('../../../../shared/data', import.meta.url));
const hasShared = existsSync(shared);
const tools = wireTools();
const [firstSeed, lastSeed, step = '1'] = process.argv.slice(2);
for (let seed = Number(firstSeed); seed < Number(lastSeed); seed += Number(step)) {
  await dumpPhoto(seed);
  dumpTestSurface(seed);
}

async function dumpPhoto(seed: number): Promise<void> {
  const random = randomStream(seed).branch('bands');
  const streaks = random.chance(0.5)
    ? { cleaned: true, streaks: random.pick(STREAK_KINDS) }
    : { streaks: 'none' as const };
  const options: SceneOptions = {
    withCard: true,
    maxTiltDegrees: 40,
    longSidePx: random.pick([1200, 1280, 1440]),
    gridStepMm: 0.35,
    ...streaks,
  };
  const pictures = hasShared && seed % 2 === 1 ? shared : null;
  const { photo, truth } = await photoFromSeed(seed, { pictures, options, quickTruth: true });
  const card = readCard(photo, null, tools.kernel);
  if (!card.ok || card.value.located === null) return;
  const view = viewSurface(photo, card.value, surfaceZone(truth.zone.polygonMm));
  if (!view.ok) return;
  const told = await tools.segmenter.segment(view.value);
  if (!told.ok) return;
  const { grid, lab, zone, placed } = view.value;
  const input = {
    grid,
    lab,
    usable: usableMask(zone, told.value.blocked),
    residueProbability: residueProbabilityOf(told.value),
    photoPxPerUnit: placed.pxPerUnit,
  };
  dump(input, truth.zone.streaks, { isRendered: true, residue: truth.zone.residue });
}

function dumpTestSurface(seed: number): void {
  const ground = STEEL_GROUNDS[(seed >> 1) % STEEL_GROUNDS.length];
  const kind = seed % 2 === 1 ? 'swath-seam' : 'dwell-band';
  const stripes = seed % 5 < 2 ? { stripes: { kind, contrast: 3 + (seed % 7) } as const } : {};
  const view = stripedSteel(seed, { ...SIZES[seed % SIZES.length], ground, ...stripes });
  const { grid, lab, usable, residue, pxPerMm } = view;
  dump({ grid, lab, usable, residueProbability: residue, photoPxPerUnit: pxPerMm }, view.truth, {
    isRendered: false,
    residue: 0,
  });
}

function dump(input: SurfaceInput, truth: Truth | null, about: { isRendered: boolean; residue: number }): void {
  const rasters = searchRasters(nativeSurface(input, 1));
  const { grid, photoPxPerUnit } = input;
  const isTooFine = truth !== null && truth.pitchMm !== null && truth.pitchMm * photoPxPerUnit < LEAST_PITCH_PX;
  const row = {
    ...about,
    truth:
      truth === null
        ? null
        : {
            contrast: truth.contrastDeltaE00,
            cover: isTooFine ? 0 : truth.affectedFraction,
            degrees: halfTurn(truth.directionDegrees - directionOf(grid.angle)),
          },
    candidates: signedCandidates(bandSearches(rasters), groundSignal(rasters)).map((found) => ({
      degrees: directionOf(found.candidate.direction.frame.angle),
      isOpen: doubtOfForm(found) === null,
      signs: found.signs,
    })),
  };
  process.stdout.write(`${JSON.stringify(row)}\n`);
}
