import { describe, expect, it } from 'vitest';
import {
  measuredShare,
  type PatchReading,
  type TrialPlan,
  trialRequestSchema,
  trialResultSchema,
  type TrialResult,
} from '../../../../server/domain/index.ts';
import { planTrial } from '../../../../server/process/trial/plan-trial.ts';
import { readTrial } from '../../../../server/process/trial/read-trial.ts';
import { LINE_MACHINE } from '../../../support/line-machine.ts';
import { seededNormal, seededRandom } from '../../../support/seeded-random.ts';
import { simulateProcess, type SimulatedKind, type SimulatedProcess } from '../../../support/simulated-process.ts';

function planOf(surface: string): TrialPlan {
  const plan = planTrial(
    trialRequestSchema.parse({
      machine: LINE_MACHINE,
      surface,
      target: { residueFractionMax: 0.05 },
      coupon: { widthMm: 300, heightMm: 200 },
    }),
  );
  if (!plan.ok) throw new Error(JSON.stringify(plan.fault));
  return plan.value;
}

/** The trial as it goes on a simulated surface: hand within 10 %, photo within 2 points. */
function cleaned(plan: TrialPlan, process: SimulatedProcess, seed: number): PatchReading[] {
  const random = seededRandom(seed);
  return plan.patches.map(({ name, settings }) => {
    const { residue } = process.treat(process.start, settings, 0.9 + 0.2 * random());
    const seen = residue + 0.01 * seededNormal(random);
    return { name, residue: measuredShare(seen, seen - 0.02, seen + 0.02) };
  });
}

function resultOf(plan: TrialPlan, readings: readonly PatchReading[]): TrialResult {
  const result = readTrial(plan, readings);
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value;
}

describe('reading a trial', () => {
  it.each(['light rust', 'heavy pitted rust', 'mill scale'] as SimulatedKind[])(
    'names a setting that does meet the target on most simulated surfaces of %s',
    (kind) => {
      const plan = planOf(kind);
      let [named, met] = [0, 0];
      for (let seed = 1; seed <= 6; seed++) {
        const process = simulateProcess({ kind, seed, machine: LINE_MACHINE, resistant: 0 });
        const { fastest } = resultOf(plan, cleaned(plan, process, seed));
        if (fastest === null) continue;
        named++;
        if (process.treat(process.start, fastest.settings, 1).residue <= 0.05) met++;
      }
      expect(named).toBeGreaterThanOrEqual(4);
      expect(met / named).toBeGreaterThanOrEqual(0.75);
    },
  );

  it('fits the contract and shows less residue for deeper strokes and for more energy', () => {
    const plan = planOf('light rust');
    const process = simulateProcess({ kind: 'light rust', seed: 3, machine: LINE_MACHINE });
    const result = trialResultSchema.parse(resultOf(plan, cleaned(plan, process, 1)));
    const { residueFraction, strokeFluenceJPerCm2, arealEnergyJPerCm2 } = result.response;
    expect(residueFraction).toHaveLength(strokeFluenceJPerCm2.length);
    for (const row of residueFraction) {
      expect(row).toHaveLength(arealEnergyJPerCm2.length);
      row.slice(1).forEach((share, i) => {
        expect(share).toBeLessThanOrEqual(row[i] + 1e-4);
      });
    }
    expect(residueFraction[8][12]).toBeLessThan(residueFraction[0][12] + 1e-4);
  });

  it('names no setting where nothing came off', () => {
    const plan = planOf('tight oxide');
    const untouched = plan.patches.map(({ name }) => ({ name, residue: measuredShare(0.9, 0.88, 0.92) }));
    const { fastest, because } = resultOf(plan, untouched);
    expect(fastest).toBeNull();
    expect(because).toContain('No setting of this machine');
  });

  it('marks the one patch that the fit cannot explain', () => {
    const plan = planOf('light rust');
    const readings = plan.patches.map(({ name }, index) => {
      const share = index === 5 ? 0.9 : 0.01;
      return { name, residue: measuredShare(share, share - 0.01, share + 0.01) };
    });
    const odd = resultOf(plan, readings).patches.filter(({ isOdd }) => isOdd);
    expect(odd.map(({ name }) => name)).toEqual([plan.patches[5].name]);
  });

  it('refuses readings that lack a patch', () => {
    const plan = planOf('light rust');
    const readings = plan.patches.slice(1).map(({ name }) => ({ name, residue: measuredShare(0.1, 0.05, 0.15) }));
    expect(readTrial(plan, readings)).toMatchObject({
      ok: false,
      fault: { code: 'trial-patches-differ', missing: ['A1'] },
    });
  });
});
