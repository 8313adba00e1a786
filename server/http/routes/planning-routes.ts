import type { PLANNING_ENDPOINTS } from '../../domain/api/planning-endpoints.ts';
import { success } from '../../domain/index.ts';
import { dosePicture } from '../../domain/dose/dose-picture.ts';
import { quoteJob } from '../../process/quote/quote-job.ts';
import type { Learning } from '../../services/keep-learning.ts';
import type { TestPatches } from '../../services/keep-test-patches.ts';
import type { Trials } from '../../services/keep-trials.ts';
import type { HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';

type Names = Extract<HandledEndpointName, keyof typeof PLANNING_ENDPOINTS>;

/** Trials, dose pictures, quotes and what the shop has learned. */
export const planningRoutes = ({
  trials,
  testPatches,
  learning,
}: {
  trials: Trials;
  testPatches: TestPatches;
  learning: Learning;
}): HandlersOf<Names> => ({
  listTrials: async ({ query }) => success(await trials.list(query)),
  addTrial: ({ body, caller }) => trials.add(body, actorOf(caller)),
  readTrial: ({ params }) => trials.read(params.trialId),
  readTrialSheet: async ({ params, query }) => {
    const sheet = await trials.sheet(params.trialId, query.paper);
    if (!sheet.ok) return sheet;
    return success({
      mediaType: 'application/pdf',
      body: sheet.value,
      fileName: `bareplate-trial-${query.paper}.pdf`,
      isImmutable: false,
    });
  },
  fitTrial: ({ params, body }) => trials.fit(params.trialId, body.comparisonId),
  removeTrial: ({ params }) => trials.remove(params.trialId),
  readZoneAdvice: ({ params }) => testPatches.advise(params.zoneId),
  listTestPatches: ({ params }) => testPatches.list(params.zoneId),
  addTestPatch: ({ params, body, caller }) => testPatches.add(params.zoneId, body, actorOf(caller)),
  removeTestPatch: ({ params }) => testPatches.remove(params.patchId),
  drawDose: ({ body }) => Promise.resolve(dosePicture(body)),
  makeQuote: async ({ body: { machineId, ...request } }) =>
    quoteJob({ ...request, earlierZones: machineId === undefined ? [] : await learning.zonesOf(machineId) }),
  listLearned: async () => success(await learning.list()),
  forgetLearned: ({ body }) => learning.forget(body),
});
