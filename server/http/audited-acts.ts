import type { EndpointName } from '../domain/api/endpoints.ts';
import type { AuditEvent } from '../domain/index.ts';
import type { AuditNote } from '../services/audit-log.ts';
import type { KnownSession } from '../services/open-sessions.ts';
import { actorOf } from './routes/actor-of.ts';

/** What an endpoint does, for the log: to which kind of thing, and which parameter names it (else the answer's own id). */
interface Act {
  readonly act: AuditEvent['act'];
  readonly kind: string;
  readonly param?: string;
}

const act = (doing: Act['act'], kind: string, param?: string): Act => ({
  act: doing,
  kind,
  ...(param === undefined ? {} : { param }),
});

/**
 * Acts of the work model and of people's accounts. Acts on evidence itself (records, corrections, what is handed out) are
 * not here: their services write them in the same step as the act.
 */
const ACTS: Partial<Record<EndpointName, Act>> = {
  setUp: act('created', 'person'),
  signIn: act('signed in', 'person'),
  useInvitation: act('signed in', 'person'),
  signOut: act('signed out', 'person'),
  changePassword: act('changed', 'person'),
  invitePerson: act('created', 'person'),
  changePerson: act('changed', 'person', 'personId'),
  renewInvitation: act('changed', 'person', 'personId'),
  revokeSessionsOfPerson: act('changed', 'person', 'personId'),
  addJob: act('created', 'job'),
  changeJob: act('changed', 'job', 'jobId'),
  removeJob: act('removed', 'job', 'jobId'),
  addZone: act('created', 'zone'),
  changeZone: act('changed', 'zone', 'zoneId'),
  removeZone: act('removed', 'zone', 'zoneId'),
  addRound: act('created', 'round'),
  changeRound: act('changed', 'round', 'roundId'),
  removeRound: act('removed', 'round', 'roundId'),
  attachPhoto: act('changed', 'round', 'roundId'),
  moveOutline: act('changed', 'round', 'roundId'),
  detachPhoto: act('changed', 'round', 'roundId'),
  addPhoto: act('created', 'photo'),
  changeShop: act('changed', 'shop'),
  addMachine: act('created', 'machine'),
  changeMachine: act('changed', 'machine', 'machineId'),
  removeMachine: act('removed', 'machine', 'machineId'),
  addCard: act('created', 'card'),
  changeCard: act('changed', 'card', 'cardId'),
  registerCardValues: act('changed', 'card', 'cardId'),
  removeCardValues: act('changed', 'card', 'cardId'),
  addLesson: act('created', 'lesson'),
  changeLesson: act('changed', 'lesson', 'lessonId'),
  removeLesson: act('removed', 'lesson', 'lessonId'),
  addComparison: act('created', 'comparison'),
  removeComparison: act('removed', 'comparison', 'comparisonId'),
  addTrial: act('created', 'trial'),
  fitTrial: act('changed', 'trial', 'trialId'),
  removeTrial: act('removed', 'trial', 'trialId'),
  addTestPatch: act('created', 'patch'),
  removeTestPatch: act('removed', 'patch', 'patchId'),
  forgetLearned: act('changed', 'learning'),
};

interface Answered {
  readonly caller: KnownSession | null;
  readonly params: Readonly<Record<string, unknown>>;
  readonly value: unknown;
}

/** The row that an answered request puts into the log; null for one that only reads, or whose service has written it. */
export function actOf(name: EndpointName, { caller, params, value }: Answered): AuditNote | null {
  const known = ACTS[name];
  if (known === undefined) return null;
  const person = known.kind === 'person' ? personIn(value) : null;
  const by = caller?.person ?? person;
  const id = known.param === undefined ? (person?.id ?? idIn(value) ?? by?.id ?? 'this') : String(params[known.param]);
  return {
    by: by === null ? null : actorOf({ person: by, sessionId: '' }),
    act: known.act,
    subject: `${known.kind}:${id}`,
    details: { endpoint: name, ...photoIn(name, params, value) },
  };
}

export const refusalOf = (name: EndpointName, caller: KnownSession): AuditNote => ({
  by: actorOf(caller),
  act: 'was refused',
  subject: `endpoint:${name}`,
  details: { why: 'role-lacking' },
});

type Person = KnownSession['person'];

const fieldOf = (value: unknown, name: string): unknown =>
  typeof value === 'object' && value !== null ? (value as Record<string, unknown>)[name] : undefined;

function idIn(value: unknown): string | null {
  const id = fieldOf(value, 'id');
  return typeof id === 'string' ? id : null;
}

const personIn = (value: unknown): Person | null => (fieldOf(value, 'person') as Person | null | undefined) ?? null;

/** A photo comes into the log with its hash: a row that is changed to another photo later no longer fits. */
function photoIn(name: EndpointName, params: Answered['params'], value: unknown): AuditNote['details'] {
  const photo =
    name === 'attachPhoto'
      ? fieldOf(fieldOf(value, String(params['role'])), 'photo')
      : name === 'addPhoto'
        ? value
        : null;
  const [photoId, sha256] = [fieldOf(photo, 'id'), fieldOf(photo, 'sha256')];
  return typeof photoId === 'string' && typeof sha256 === 'string' ? { photoId, sha256 } : {};
}
