import type { z } from 'zod';
import type { forgetSchema, LearnedKind } from '../domain/api/trials.ts';
import { SURFACE_KIND_WORDS, success } from '../domain/index.ts';
import type { EarlierZone, Outcome } from '../domain/index.ts';
import { describeLearning } from '../process/belief/describe-learning.ts';
import { zonesOfKind } from '../process/belief/pooled-prior.ts';
import { absent } from './absent.ts';
import { learnFromZones } from './learn-from-zones.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Clock } from './people-ports.ts';

export interface LearningPorts {
  readonly ledger: Pick<Ledger, 'learning' | 'machines'>;
  readonly clock: Clock;
}

export interface Learning {
  /** Zones that a machine has treated, as far as they are learned from. */
  zonesOf(machineId: string): Promise<EarlierZone[]>;
  list(): Promise<{ items: LearnedKind[] }>;
  forget(body: z.output<typeof forgetSchema>): Promise<Outcome<{ items: LearnedKind[] }>>;
}

const MOST_MACHINES = 100;

export function keepLearning({ ledger, clock }: LearningPorts): Learning {
  const list = async (): Promise<{ items: LearnedKind[] }> => {
    const machines = await ledger.machines.list({ sort: 'name', limit: MOST_MACHINES, putAway: 'no' });
    const items: LearnedKind[] = [];
    for (const { id, name, machine } of machines.items) {
      const zones = await learnFromZones(id, null, ledger);
      const forgotten = await ledger.learning.forgottenAt(id);
      for (const kind of SURFACE_KIND_WORDS) {
        const ofKind = zonesOfKind(zones, kind);
        if (ofKind.length === 0 && !forgotten.has(kind)) continue;
        items.push({
          machineId: id,
          machineName: name,
          kind,
          zones: ofKind.length,
          rounds: ofKind.reduce((sum, zone) => sum + zone.rounds.length, 0),
          ...describeLearning(kind, machine, ofKind),
          forgottenAt: forgotten.get(kind) ?? null,
        });
      }
    }
    return { items };
  };
  return {
    list,
    zonesOf: (machineId) => learnFromZones(machineId, null, ledger),
    async forget({ machineId, kind }) {
      if ((await ledger.machines.find(machineId)) === null) return absent('machine', machineId);
      await ledger.learning.forget(machineId, kind, nowOf(clock));
      return success(await list());
    },
  };
}
