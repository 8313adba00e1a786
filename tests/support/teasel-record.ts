import type { ZoneRecord } from '../../server/domain/api/records.ts';
import type { Role } from '../../server/domain/api/roles.ts';
import type { Bench, Client } from './server-bench.ts';
import { addTeaselRound, followToEnd } from './teasel-round.ts';

export const SIGNING_PASSWORD = 'a sentence to sign with';

/** A person who can sign: the bench's own people have no password. */
export async function signerOf(bench: Bench, role: Role = 'inspector'): Promise<Client> {
  const client = await bench.as(role);
  const { ledger, passwords } = bench.adapters;
  await ledger.people.setPassword(client.personId ?? '', await passwords.hash(SIGNING_PASSWORD));
  return client;
}

/** A draft of a zone with one round that has its answer. */
export async function draftOf(client: Client, zoneName = 'Stern plate'): Promise<ZoneRecord> {
  const { zone, round } = await addTeaselRound(client, zoneName);
  const started = await client.call('startAssessment', { params: { roundId: round.id }, body: {} });
  await followToEnd(client, `/api/assessments/${started.body.id}/progress`);
  return (await client.call('startRecord', { params: { zoneId: zone.id }, body: {} })).body;
}

export async function signedRecordOf(
  preparer: Client,
  signer: Client,
  verdict: 'accepted' | 'rejected' = 'accepted',
): Promise<ZoneRecord> {
  const { id: recordId } = await draftOf(preparer);
  await preparer.call('markRecordReady', { params: { recordId } });
  const body = { verdict, reason: verdict === 'rejected' ? 'Lines are left' : '', password: SIGNING_PASSWORD };
  return (await signer.call('signRecord', { params: { recordId }, body })).body;
}
