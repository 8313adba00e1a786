/**
 * Writes what the searches for waves and bands tell of seeded zones, with the truth beside it, for fit-streaks.py to learn from.
 *
 *   npx tsx models/train/streaks/dump-streaks.ts FIRST_SEED LAST_SEED [STEP] >ROWS.jsonl
 *
 * Zones of rendered photos as `npm run accuracy` draws them, half of them composed with ../shared/data where present; half of
 * them have streaks, and half keep 5 to 70 % of their residue. For every third seed a test surface of another renderer, with
 * brushing, grinding, rolling, welds, shadows and joints. One zone in four comes again without what the network says of dwell,
 * as where another segmenter speaks.
 */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { photoFromSeed } from '../../../fixtures/generate/composed/photo-from-seed.ts';
import { randomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import type { RandomStream } from '../../../fixtures/generate/noise/random-stream.ts';
import type { SceneOptions } from '../../../fixtures/generate/scene/draw-scene.ts';
import { STREAK_KINDS, degreesFromRadians, radians } from '../../../server/domain/index.ts';
import { PLAIN_SRGB } from '../../../server/measure/colour/normalise-colour.ts';
import type { NeutralResponse } from '../../../server/measure/colour/neutral-response.ts';
import { byteMask } from '../../../server/measure/raster/plane.ts';
import { streakSurface } from '../../../server/measure/streaks-of-zone.ts';
import { BAND_SIGNS } from '../../../server/measure/streaks/bands/band-signs.ts';
import { doubtOfForm, signedCandidates } from '../../../server/measure/streaks/bands/detect-bands.ts';
import { filmShares, nativeSurface } from '../../../server/measure/streaks/native-surface.ts';
import { bandSearches, bandGround, searchRasters } from '../../../server/measure/streaks/search-rasters.ts';
import { signedWaves } from '../../../server/measure/streaks/signed-waves.ts';
import type { SurfaceInput } from '../../../server/measure/streaks/streak-finding.ts';
import { angleOf } from '../../../server/measure/streaks/waves/periodic-stripes.ts';
import { WAVE_SIGNS } from '../../../server/measure/streaks/waves/wave-signs.ts';
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

/** Finer stripes are not told apart from the ground. */
const LEAST_PITCH = { px: 8, mm: 1.5 } as const;
const TEST_SURFACE_EVERY = 3;
const WITHOUT_DWELL_EVERY = 4;
/** Colours that need no card. */
const NO_CORRECTION: NeutralResponse = {
  toneCorrection: new Float64Array(),
  logGain: [0, 0, 0],
  logLightPerMm: [0, 0],
  centreMm: [0, 0],
  shade: null,
  veil: null,
  residuals: new Float64Array(),
  outliers: new Set(),
};
const NORMALISED = { ...PLAIN_SRGB, response: NO_CORRECTION };
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
  if (seed % TEST_SURFACE_EVERY === 0) await dumpTestSurface(seed);
}

async function dumpPhoto(seed: number): Promise<void> {
  const random = randomStream(seed).branch('dump streaks');
  const options = drawOptions(random);
  const pictures = hasShared && random.chance(0.5) ? shared : null;
  const { photo, truth } = await photoFromSeed(seed, { pictures, options, quickTruth: true });
  const card = readCard(photo, null, tools.kernel);
  if (!card.ok || card.value.located === null) return;
  const view = viewSurface(photo, card.value, surfaceZone(truth.zone.polygonMm));
  if (!view.ok) return;
  const told = await tools.segmenter.segment(view.value);
  if (!told.ok) return;
  const input = streakSurface(view.value, told.value, view.value.placed.pxPerUnit);
  const about = { isRendered: true, residue: truth.zone.residue };
  dump(input, truth.zone.streaks, about);
  if (seed % WITHOUT_DWELL_EVERY === 0) dump({ ...input, underDwellProbability: null }, truth.zone.streaks, about);
}

function drawOptions(random: RandomStream): SceneOptions {
  const streaks = random.chance(0.5)
    ? { cleaned: true, streaks: random.pick(STREAK_KINDS) }
    : { cleaned: random.chance(0.45), streaks: 'none' as const };
  const strength = random.chance(0.5) ? { strength: random.uniform(0.3, 0.95) } : {};
  return { withCard: true, maxTiltDegrees: 40, ...streaks, ...strength };
}

async function dumpTestSurface(seed: number): Promise<void> {
  const turn = Math.floor(seed / TEST_SURFACE_EVERY);
  const ground = STEEL_GROUNDS[(turn >> 1) % STEEL_GROUNDS.length];
  const kind = (['swath-seam', 'dwell-band', 'line-pitch'] as const)[turn % 3];
  const stripes = turn % 5 < 2 ? { stripes: { kind, contrast: 3 + (turn % 7) } as const } : {};
  const view = stripedSteel(seed, { ...SIZES[turn % SIZES.length], ground, ...stripes });
  const { grid, lab, usable, residue, pxPerMm } = view;
  const about = { isRendered: false, residue: 0 };
  const seen = { grid, lab, zone: usable, blocked: byteMask(grid.width, grid.height), normalisation: NORMALISED };
  const told = await tools.segmenter.segment(seen);
  if (told.ok) dump(streakSurface(seen, told.value, pxPerMm), view.truth, about);
  if (turn % WITHOUT_DWELL_EVERY !== 0) return;
  const blind = { residueProbability: residue, filmProbability: null, underDwellProbability: null };
  dump({ grid, lab, usable, ...blind, photoPxPerUnit: pxPerMm }, view.truth, about);
}

function dump(input: SurfaceInput, truth: Truth | null, about: { isRendered: boolean; residue: number }): void {
  const native = nativeSurface(input, 1);
  const rasters = searchRasters(native, filmShares(input));
  const row = {
    ...about,
    isDwellTold: input.underDwellProbability !== null,
    truth: truth === null ? null : rowOfTruth(truth, input),
    bands: signedCandidates(bandSearches(rasters), bandGround(rasters)).map((found) => ({
      degrees: directionOf(found.candidate.direction.frame.angle),
      isOpen: doubtOfForm(found) === null,
      signs: BAND_SIGNS.map((sign) => found.signs[sign]),
    })),
    waves: signedWaves(native, rasters, input.photoPxPerUnit).map(({ wave, signs }) => ({
      degrees: directionOf(angleOf(wave)),
      pitch: wave.pitchMm,
      signs: WAVE_SIGNS.map((sign) => signs[sign]),
    })),
  };
  process.stdout.write(`${JSON.stringify(row)}\n`);
}

/** Stripes that cannot be seen cover nothing. */
function rowOfTruth(truth: Truth, { grid, photoPxPerUnit }: SurfaceInput): object {
  const { pitchMm } = truth;
  const isTooFine = pitchMm !== null && (pitchMm < LEAST_PITCH.mm || pitchMm * photoPxPerUnit < LEAST_PITCH.px);
  return {
    contrast: truth.contrastDeltaE00,
    cover: isTooFine ? 0 : truth.affectedFraction,
    pitch: pitchMm,
    degrees: halfTurn(truth.directionDegrees - directionOf(grid.angle)),
  };
}
