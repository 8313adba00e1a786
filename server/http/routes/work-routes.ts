import type { WORK_ENDPOINTS } from '../../domain/api/work-endpoints.ts';
import { success } from '../../domain/index.ts';
import type { Jobs } from '../../services/keep-jobs.ts';
import type { Photos } from '../../services/keep-photos.ts';
import type { Rounds } from '../../services/keep-rounds.ts';
import type { Zones } from '../../services/keep-zones.ts';
import type { LabelPrinter } from '../../services/label-ports.ts';
import type { HandledEndpointName, HandlersOf } from '../call.ts';
import { actorOf } from './actor-of.ts';

export interface WorkRoutesParts {
  readonly jobs: Jobs;
  readonly zones: Zones;
  readonly rounds: Rounds;
  readonly photos: Photos;
  readonly labels: LabelPrinter;
}

type Names = Extract<HandledEndpointName, keyof typeof WORK_ENDPOINTS>;

export function workRoutes({ jobs, zones, rounds, photos, labels }: WorkRoutesParts): HandlersOf<Names> {
  return {
    listJobs: async ({ query }) => success(await jobs.list(query)),
    addJob: ({ body, caller }) => jobs.add(body, actorOf(caller)),
    readJob: ({ params }) => jobs.read(params.jobId),
    changeJob: ({ params, body }) => jobs.change(params.jobId, body),
    removeJob: ({ params }) => jobs.remove(params.jobId),
    listZones: async ({ query }) => success(await zones.list(query)),
    addZone: ({ params, body, caller }) => zones.add(params.jobId, body, actorOf(caller)),
    readZone: ({ params }) => zones.read(params.zoneId),
    changeZone: ({ params, body }) => zones.change(params.zoneId, body),
    removeZone: ({ params }) => zones.remove(params.zoneId),
    findZoneByLabel: ({ params }) => zones.findByLabel(params.labelCode),
    async readZoneLabel({ params, origin }) {
      const reading = await zones.read(params.zoneId);
      if (!reading.ok) return reading;
      const { name, jobName, labelCode } = reading.value;
      const svg = await labels.zoneLabel({ name, jobName, labelCode, url: `${origin}/z/${labelCode}` });
      return success({ mediaType: 'image/svg+xml', body: Buffer.from(svg), isImmutable: false });
    },
    listRounds: ({ params, query }) => rounds.list(params.zoneId, query),
    addRound: ({ params, body, caller }) => rounds.add(params.zoneId, body, actorOf(caller)),
    readRound: ({ params }) => rounds.read(params.roundId),
    changeRound: ({ params, body }) => rounds.change(params.roundId, body),
    removeRound: ({ params }) => rounds.remove(params.roundId),
    attachPhoto: ({ params, body, caller }) => photos.attach(params, body, actorOf(caller)),
    moveOutline: ({ params, body }) => rounds.moveOutline(params.roundId, params.role, body.outline),
    detachPhoto: ({ params }) => rounds.setPhoto(params.roundId, params.role, null),
  };
}
