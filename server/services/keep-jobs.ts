import type { z } from 'zod';
import type { Job, jobChangeSchema, jobsQuerySchema, newJobSchema } from '../domain/api/jobs.ts';
import type { Page } from '../domain/api/paging.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import { signedRecordStands } from './signed-record-stands.ts';

export interface JobPorts {
  readonly ledger: Pick<Ledger, 'jobs' | 'records' | 'transact'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface Jobs {
  list(query: z.output<typeof jobsQuerySchema>): Promise<Page<Job>>;
  read(id: string): Promise<Outcome<Job>>;
  add(body: z.output<typeof newJobSchema>, actor: Actor): Promise<Outcome<Job>>;
  change(id: string, change: z.output<typeof jobChangeSchema>): Promise<Outcome<Job>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepJobs({ ledger, tokens, clock }: JobPorts): Jobs {
  const read = async (id: string): Promise<Outcome<Job>> => {
    const job = await ledger.jobs.find(id);
    return job === null ? absent('job', id) : success(job);
  };
  return {
    read,
    list: (query) => ledger.jobs.list(query),
    async add({ name, customer, note, id = tokens.newId() }, actor) {
      const made = { id, createdAt: nowOf(clock), createdBy: actor.id };
      await ledger.jobs.add({ ...made, name, customer, note, isInvented: false });
      return read(id);
    },
    async change(id, change) {
      if (await ledger.jobs.change(id, change)) await ledger.jobs.touch(id, nowOf(clock));
      return read(id);
    },
    remove: (id) =>
      ledger.transact(async ({ jobs, records }) => {
        if (await records.hasSigned({ jobId: id })) return signedRecordStands('job');
        return (await jobs.remove(id)) ? success(null) : absent('job', id);
      }),
  };
}
