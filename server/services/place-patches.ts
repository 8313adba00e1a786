import { fraction, statedResidue } from '../domain/index.ts';
import type { Round, TriedPatch } from '../domain/index.ts';
import type { ZonePatch } from '../domain/api/test-patches.ts';
import { COVERED_ALL_OVER } from './earlier-rounds.ts';

/** A test patch before it is known what the zone was like around it. */
export type StatedPatch = Omit<TriedPatch, 'before'>;

/** @param roundsBefore how many of the rounds that the advice knows came before the patch */
export function statedPatch(patch: ZonePatch, roundsBefore: number): StatedPatch {
  return {
    settings: patch.settings,
    afterRounds: roundsBefore,
    after: statedResidue(patch.residue),
    ...(patch.scrapeTest === null ? {} : { scrapeTest: patch.scrapeTest }),
    ...(patch.heatTint === null ? {} : { heatTint: patch.heatTint }),
    ...(patch.travelSpeedMmPerS === null ? {} : { measuredTravelSpeedMmPerS: patch.travelSpeedMmPerS }),
  };
}

/** Test patches as advice takes them: each began with what the round before it had left on the zone. */
export const placePatches = (patches: readonly StatedPatch[], rounds: readonly Round[]): TriedPatch[] =>
  patches.map((patch) => {
    const before =
      rounds.slice(0, patch.afterRounds).at(-1)?.after.residueFraction ??
      rounds.at(0)?.before.residueFraction ??
      COVERED_ALL_OVER;
    return { ...patch, before: { residueFraction: fraction(before) } };
  });
