import { waveSearches } from './search-rasters.ts';
import type { SearchRasters } from './search-rasters.ts';
import { grainAcross } from './surface/grain.ts';
import type { WeighedSurface } from './surface/reduce-surface.ts';
import { dwellWave } from './waves/dwell-wave.ts';
import { foldStripes } from './waves/fold-stripes.ts';
import type { FoldBlur, FoldedStripes } from './waves/fold-stripes.ts';
import { angleOf, periodicStripes } from './waves/periodic-stripes.ts';
import type { StripeWave } from './waves/periodic-stripes.ts';
import { phaseMap } from './waves/phase-map.ts';
import type { PhaseMap } from './waves/phase-map.ts';
import { stripeLikeness } from './waves/stripe-likeness.ts';
import { sampleStripes } from './waves/stripe-samples.ts';
import { waveSigns } from './waves/wave-signs.ts';
import type { Fold, WaveSigns } from './waves/wave-signs.ts';

/** A wave with all that is told of it. */
export interface SignedWave {
  readonly wave: StripeWave;
  readonly phase: PhaseMap;
  /** Its period on the whole surface. */
  readonly folded: FoldedStripes;
  readonly signs: WaveSigns;
}

/** @param pxPerMm photo pixels per mm */
export function signedWaves(native: WeighedSurface, rasters: SearchRasters, pxPerMm: number): SignedWave[] {
  const followed = periodicStripes(waveSearches(rasters));
  const grain = grainAcross(rasters.whole.fine);
  const ground = rasters.withoutResidue;
  return followed.likely.flatMap((wave): SignedWave[] => {
    const phase = phaseMap(wave);
    const blur = {
      pitchMm: wave.pitchMm,
      stepMm: native.stepMm,
      photoPixelMm: 1 / pxPerMm,
      strayCycles: wave.phase.residualCycles,
    };
    const folded = foldOf(native, phase, blur);
    if (folded === null) return [];
    const signs = waveSigns(wave, followed, {
      whole: folded,
      ground: ground === null ? null : foldOf(ground, phase, blur),
      covered: phase.coveredShare,
      grain: grain(angleOf(wave)),
      residueShare: rasters.residueShare,
      pxPerMm,
    });
    return [{ wave, phase, folded, signs }];
  });
}

function foldOf(surface: WeighedSurface, phase: PhaseMap, blur: FoldBlur): Fold | null {
  const samples = sampleStripes(surface, phase);
  const folded = foldStripes(samples, blur);
  return folded === null
    ? null
    : { ...folded, likeness: stripeLikeness(samples, folded) ?? 0, dwell: dwellWave(samples) };
}
