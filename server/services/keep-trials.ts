import type { z } from 'zod';
import type { newTrialSchema, ShopTrial, trialsPageSchema, trialsQuerySchema } from '../domain/api/trials.ts';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { planTrial } from '../process/trial/plan-trial.ts';
import { readTrial } from '../process/trial/read-trial.ts';
import { absent } from './absent.ts';
import { learnFromZones } from './learn-from-zones.ts';
import type { Ledger } from './ledger.ts';
import { nowOf } from './moments.ts';
import type { Actor, Clock, TokenMaker } from './people-ports.ts';
import type { PaperSize, TrialPrinter } from './ports.ts';

export interface TrialPorts {
  readonly ledger: Pick<Ledger, 'trials' | 'machines' | 'comparisons' | 'learning'>;
  readonly tokens: Pick<TokenMaker, 'newId'>;
  readonly clock: Clock;
  readonly trialPrinter: TrialPrinter;
}

export interface Trials {
  list(query: z.output<typeof trialsQuerySchema>): Promise<z.output<typeof trialsPageSchema>>;
  read(id: string): Promise<Outcome<ShopTrial>>;
  add(body: z.output<typeof newTrialSchema>, actor: Actor): Promise<Outcome<ShopTrial>>;
  sheet(id: string, paper: PaperSize): Promise<Outcome<Uint8Array>>;
  fit(id: string, comparisonId: string): Promise<Outcome<ShopTrial>>;
  remove(id: string): Promise<Outcome<null>>;
}

export function keepTrials({ ledger, tokens, clock, trialPrinter }: TrialPorts): Trials {
  const read = async (id: string): Promise<Outcome<ShopTrial>> => {
    const trial = await ledger.trials.find(id);
    return trial === null ? absent('trial', id) : success(trial);
  };
  return {
    read,
    list: (query) => ledger.trials.list(query),
    async add({ id = tokens.newId(), name, machineId, ...asked }, actor) {
      const machine = await ledger.machines.find(machineId);
      if (machine === null) return absent('machine', machineId);
      const plan = planTrial({
        name,
        machine: machine.machine,
        target: { residueFractionMax: asked.residueFractionMax },
        coupon: { widthMm: asked.couponWidthMm, heightMm: asked.couponHeightMm },
        patches: asked.patches,
        earlierZones: await learnFromZones(machineId, null, ledger),
        ...(asked.surface === '' ? {} : { surface: asked.surface }),
        ...(asked.thicknessMm === null ? {} : { thicknessMm: asked.thicknessMm }),
      });
      if (!plan.ok) return plan;
      await ledger.trials.add({
        id,
        name,
        machineId,
        plan: plan.value,
        createdAt: nowOf(clock),
        createdBy: actor.id,
      });
      return read(id);
    },
    async sheet(id, paper) {
      const trial = await read(id);
      return trial.ok ? success(await trialPrinter.sheet(trial.value.plan, paper)) : trial;
    },
    async fit(id, comparisonId) {
      const trial = await read(id);
      if (!trial.ok) return trial;
      const comparison = await ledger.comparisons.find(comparisonId);
      if (comparison === null) return absent('comparison', comparisonId);
      const readings = comparison.sides.flatMap(({ name, surface }) =>
        surface === null ? [] : [{ name, residue: surface.residue }],
      );
      if (readings.length < comparison.sides.length) {
        return failure({ code: 'state-conflict', detail: 'the patches are not measured yet; wait until they are' });
      }
      const result = readTrial(trial.value.plan, readings);
      if (!result.ok) return result;
      await ledger.trials.setResult(id, comparisonId, result.value, nowOf(clock));
      return read(id);
    },
    async remove(id) {
      return (await ledger.trials.remove(id)) ? success(null) : absent('trial', id);
    },
  };
}
