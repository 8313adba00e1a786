import type { z } from 'zod';
import type {
  machineChangeSchema,
  machinesQuerySchema,
  newMachineSchema,
  ShopMachine,
} from '../domain/api/machines.ts';
import type { Page } from '../domain/api/paging.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Clock, TokenMaker } from './people-ports.ts';

export interface MachinePorts {
  readonly ledger: Pick<Ledger, 'machines' | 'transact'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
}

export interface Machines {
  list(query: z.output<typeof machinesQuerySchema>): Promise<Page<ShopMachine>>;
  read(id: string): Promise<Outcome<ShopMachine>>;
  add(body: z.output<typeof newMachineSchema>): Promise<Outcome<ShopMachine>>;
  change(id: string, change: z.output<typeof machineChangeSchema>): Promise<Outcome<ShopMachine>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepMachines({ ledger, tokens, clock }: MachinePorts): Machines {
  const read = async (id: string): Promise<Outcome<ShopMachine>> => {
    const machine = await ledger.machines.find(id);
    return machine === null ? absent('machine', id) : success(machine);
  };
  return {
    read,
    list: (query) => ledger.machines.list(query),
    async add({ id = tokens.newId(), ...fields }) {
      await ledger.machines.add({ id, ...fields, isInvented: false, createdAt: nowOf(clock) });
      return read(id);
    },
    async change(id, change) {
      await ledger.machines.change(id, change, nowOf(clock));
      return read(id);
    },
    remove: (id) =>
      ledger.transact(async ({ machines }) => {
        if (await machines.isUsed(id)) {
          return failure({
            code: 'state-conflict',
            detail: 'rounds, zones, trials or test patches name this machine; put it away instead',
          });
        }
        return (await machines.remove(id)) ? success(null) : absent('machine', id);
      }),
  };
}
