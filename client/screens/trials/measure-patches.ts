import type { TrialPlan } from '@domain/trial.ts';
import { trialPatchOutline } from '@domain/trial-patch-outline.ts';
import { call } from '../../api/call.ts';
import { uploadPhoto } from '../../api/upload-photo.ts';

/** Sends the photo of a coupon and has its patches measured side by side. @returns id of the comparison */
export async function measurePatches(plan: TrialPlan, file: File, signal: AbortSignal): Promise<string> {
  const uploadId = await uploadPhoto(file, { onShare: () => undefined, signal });
  const photo = await call('addPhoto', { body: { uploadId } });
  const patches = plan.patches.map((patch) => ({
    name: patch.name,
    outline: { polygonMm: trialPatchOutline(patch, plan.couponAtMm) },
    settings: patch.settings,
  }));
  const comparison = await call('addComparison', {
    body: { title: plan.name, of: { kind: 'patches', photoId: photo.id, patches } },
  });
  return comparison.id;
}
