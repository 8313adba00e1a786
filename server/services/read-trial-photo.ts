import { surfacePoint } from '../domain/index.ts';
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

/** Left off each side of a patch: the hand starts and stops there, and card and coupon are laid by eye. Common practice. */
const INSET_MM = 5;
/** Never more than this part of a side, so that small patches keep their middle. */
const MOST_INSET_PART = 0.25;

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

function zoneOf({ leftMm, topMm, widthMm, heightMm }: TrialPatch, [x, y]: readonly [number, number]): Zone {
  const insetX = Math.min(INSET_MM, MOST_INSET_PART * widthMm);
  const insetY = Math.min(INSET_MM, MOST_INSET_PART * heightMm);
  const [left, right] = [x + leftMm + insetX, x + leftMm + widthMm - insetX];
  const [top, bottom] = [y + topMm + insetY, y + topMm + heightMm - insetY];
  const corners = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ] as const;
  return { space: 'surface', polygon: corners.map(([cornerX, cornerY]) => surfacePoint(cornerX, cornerY)) };
}
