import type { z } from 'zod';
import type { overviewSchema, Shop, shopChangeSchema } from '../domain/api/shop.ts';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { gradeTitle, matchTarget } from '../measure/grade/match-target.ts';
import { absent } from './absent.ts';
import type { Ledger } from './ledger.ts';

export interface ShopPorts {
  readonly ledger: Pick<Ledger, 'shop' | 'machines' | 'cards' | 'jobs' | 'queue'>;
}

export interface ShopSettings {
  read(): Promise<Shop>;
  change(change: z.output<typeof shopChangeSchema>): Promise<Outcome<Shop>>;
  overview(): Promise<z.output<typeof overviewSchema>>;
}

export function keepShop({ ledger }: ShopPorts): ShopSettings {
  return {
    read: () => ledger.shop.read(),
    async change(change) {
      const { usualMachineId, usualCardId, usualTargetGrade } = change;
      if (typeof usualMachineId === 'string' && (await ledger.machines.find(usualMachineId)) === null) {
        return absent('machine', usualMachineId);
      }
      if (typeof usualCardId === 'string' && (await ledger.cards.find(usualCardId)) === null) {
        return absent('card', usualCardId);
      }
      let grade = usualTargetGrade;
      if (typeof grade === 'string') {
        const matching = matchTarget(grade);
        if (!matching.ok) return matching;
        grade = gradeTitle(matching.value);
      }
      await ledger.shop.change({ ...change, usualTargetGrade: grade });
      return success(await ledger.shop.read());
    },
    async overview() {
      return { ...(await ledger.jobs.counts()), ...(await ledger.queue.counts()) };
    },
  };
}
