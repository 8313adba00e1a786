import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ENDPOINTS } from '../../server/domain/api/endpoints.ts';
import type { EndpointName } from '../../server/domain/api/endpoints.ts';
import type { Endpoint } from '../../server/domain/api/endpoint.ts';
import { ROLES } from '../../server/domain/api/roles.ts';
import type { Role } from '../../server/domain/api/roles.ts';
import { openBench } from '../support/server-bench.ts';
import type { Bench, Client } from '../support/server-bench.ts';

let bench: Bench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.stop());

/**
 * Who may do what, written down a second time by hand: a change of the endpoint table must be meant. Letters: operator,
 * inspector, trainer, administrator; "-" is anybody, signed in or not.
 */
const EXPECTED: Readonly<Record<EndpointName, string>> = {
  readWho: '-',
  setUp: '-',
  signIn: '-',
  signOut: 'oita',
  changePassword: 'oita',
  listOwnSessions: 'oita',
  revokeOwnSession: 'oita',
  lookAtInvitation: '-',
  useInvitation: '-',
  listPeople: 'a',
  invitePerson: 'a',
  readPerson: 'a',
  changePerson: 'a',
  renewInvitation: 'a',
  revokeSessionsOfPerson: 'a',
  listJobs: 'oita',
  addJob: 'oia',
  readJob: 'oita',
  changeJob: 'oia',
  removeJob: 'a',
  listZones: 'oita',
  addZone: 'oia',
  readZone: 'oita',
  changeZone: 'oia',
  removeZone: 'a',
  findZoneByLabel: 'oita',
  readZoneLabel: 'oita',
  listRounds: 'oita',
  addRound: 'oita',
  readRound: 'oita',
  changeRound: 'oita',
  removeRound: 'a',
  attachPhoto: 'oita',
  moveOutline: 'oita',
  detachPhoto: 'oita',
  startUpload: 'oita',
  readUpload: 'oita',
  sendUploadPart: 'oita',
  removeUpload: 'oita',
  addPhoto: 'oita',
  readPhoto: 'oita',
  lookForCard: 'oita',
  readOriginal: 'oita',
  readDisplay: 'oita',
  readThumbnail: 'oita',
  readTilePyramid: 'oita',
  readTile: 'oita',
  listAssessments: 'oita',
  startAssessment: 'oita',
  readAssessment: 'oita',
  followAssessment: 'oita',
  readOverlay: 'oita',
  readClassMap: 'oita',
  readDoubtfulMap: 'oita',
  listCorrections: 'oita',
  tryCorrection: 'ia',
  addCorrection: 'ia',
  withdrawCorrection: 'ia',
  readOverview: 'oita',
  readShop: 'oita',
  changeShop: 'a',
  listAddresses: 'a',
  listMachines: 'oita',
  addMachine: 'ta',
  readMachine: 'oita',
  changeMachine: 'ta',
  removeMachine: 'a',
  readCardSheet: 'oita',
  listCards: 'oita',
  addCard: 'ita',
  readCard: 'oita',
  changeCard: 'ita',
  registerCardValues: 'ita',
  removeCardValues: 'ita',
  readCardHealth: 'oita',
  listLessons: 'oita',
  addLesson: 'ta',
  readLesson: 'oita',
  changeLesson: 'ta',
  removeLesson: 'ta',
  listComparisons: 'oita',
  addComparison: 'oita',
  readComparison: 'oita',
  followComparison: 'oita',
  removeComparison: 'oita',
  listRecords: 'oita',
  startRecord: 'oia',
  readRecord: 'oita',
  removeDraftRecord: 'ia',
  enterReadings: 'oia',
  markRecordReady: 'oia',
  withdrawRecord: 'oia',
  signRecord: 'ia',
  supersedeRecord: 'ia',
  readRecordPicture: 'oita',
  readRecordReport: 'ia',
  readRecordBundle: 'ia',
  checkBundle: 'oita',
  readTimeStampRequest: 'ia',
  addTimeStamp: 'ia',
  readSealKey: 'oita',
  readSealKeyFile: 'oita',
  listAuditLog: 'a',
  checkAuditLog: 'a',
  listTrials: 'oita',
  addTrial: 'oita',
  readTrial: 'oita',
  readTrialSheet: 'oita',
  fitTrial: 'oita',
  removeTrial: 'ta',
  readZoneAdvice: 'oita',
  listTestPatches: 'oita',
  addTestPatch: 'oita',
  removeTestPatch: 'oita',
  drawDose: 'oita',
  makeQuote: 'oita',
  listLearned: 'oita',
  forgetLearned: 'ta',
  exportAssessments: 'ia',
  exportReadings: 'ia',
  exportRegister: 'ia',
};

const ABSENT_ID = '018f6f2e-0000-7000-8000-00000000dead';
const PARAMS: Readonly<Record<string, string>> = {
  labelCode: 'AAAAAAAA',
  role: 'after',
  map: 'after',
  uploadId: '0'.repeat(32),
  level: '0',
  column: '0',
  row: '0',
  round: '1',
};

/** Parameters that fit the endpoint but name nothing. */
const paramsOf = (endpoint: Endpoint): Record<string, string> =>
  Object.fromEntries([...endpoint.path.matchAll(/:([A-Za-z]+)/g)].map(([, name]) => [name, PARAMS[name] ?? ABSENT_ID]));

const statusOf = async (client: Client, name: EndpointName): Promise<number> => {
  const endpoint: Endpoint = ENDPOINTS[name];
  const answer = await client.callLoosely(name, {
    params: paramsOf(endpoint),
    ...(endpoint.body === undefined ? {} : { body: {} }),
  });
  return answer.status;
};

const names = Object.keys(ENDPOINTS) as EndpointName[];

describe('every endpoint', () => {
  it.each(names)('%s asks whoever is not signed in to sign in, unless it is open to anybody', async (name) => {
    const isOpen = EXPECTED[name] === '-';
    const status = await statusOf(bench.anonymous(), name);
    // Open doors answer what they think of an empty body, but never "sign in".
    if (isOpen) expect([200, 400]).toContain(status);
    else expect(status).toBe(401);
  });

  it.each(ROLES.flatMap((role) => names.map((name) => [role, name] as const)))(
    '%s and %s: allowed or refused as written down',
    async (role: Role, name: EndpointName) => {
      const client = await bench.as(role);
      const isAllowed = EXPECTED[name] === '-' || EXPECTED[name].includes(role.charAt(0));
      const status = await statusOf(client, name);
      if (isAllowed) expect([200, 201, 202, 204, 400, 404, 412]).toContain(status);
      else expect(status).toBe(403);
    },
  );
});

describe('a person who is switched off', () => {
  it('is out at once, everywhere', async () => {
    const [administrator, operator] = [await bench.as('administrator'), await bench.as('operator')];
    expect((await operator.call('listJobs')).status).toBe(200);
    const params = { personId: operator.personId ?? '' };
    await administrator.call('changePerson', { params, body: { isActive: false } });
    expect((await operator.callLoosely('listJobs')).status).toBe(401);
  });

  it('whose role changes has the new role with the next request', async () => {
    const [administrator, person] = [await bench.as('administrator'), await bench.as('operator')];
    expect((await person.callLoosely('addLesson', { body: {} })).status).toBe(403);
    const params = { personId: person.personId ?? '' };
    await administrator.call('changePerson', { params, body: { role: 'trainer' } });
    expect((await person.callLoosely('addLesson', { body: {} })).status).toBe(400);
    expect((await person.callLoosely('addJob', { body: {} })).status).toBe(403);
  });
});
