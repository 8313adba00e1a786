import { surfacePoint, trialPatchOutline } from '../domain/index.ts';
import type { Outcome, TrialPatch, TrialPlan, TrialResult, Zone } from '../domain/index.ts';
import { readTrial } from '../process/trial/read-trial.ts';
import type { AssessTools } from './assess-photos.ts';
import { comparePatchesOfPhoto } from './compare-patches-of-photo.ts';

export interface TrialPhoto {
  readonly plan: TrialPlan;
  readonly photo: Uint8Array;
  /** The coupon's top left corner in the card frame; null: as the sheet shows. */
  readonly couponAtMm: readonly [number, number] | null;
  readonly cardValues: string | null;
}

/** Measures each patch of a trial in the photo of the cleaned coupon, and fits the surface to them. */
export async function readTrialPhoto(request: TrialPhoto, tools: AssessTools): Promise<Outcome<TrialResult>> {
  const { plan, photo, cardValues } = request;
  const at = request.couponAtMm ?? plan.couponAtMm;
  const patches = plan.patches.map((patch) => ({ name: patch.name, zone: zoneOf(patch, at), settings: null }));
  const compared = await comparePatchesOfPhoto({ photo, patches, cardValues }, tools);
  if (!compared.ok) return compared;
  const { zones } = compared.value;
  return readTrial(
    plan,
    plan.patches.map(({ name }) => ({ name, residue: zones[name].residue })),
  );
}

const zoneOf = (patch: TrialPatch, at: readonly [number, number]): Zone => ({
  space: 'surface',
  polygon: trialPatchOutline(patch, at).map(([x, y]) => surfacePoint(x, y)),
});
