import { describe, expect, it } from 'vitest';
import { type TrialPlan, trialPlanSchema, trialRequestSchema } from '../../../../server/domain/index.ts';
import { chooseInformative } from '../../../../server/process/trial/choose-informative.ts';
import { planTrial } from '../../../../server/process/trial/plan-trial.ts';
import { LINE_MACHINE } from '../../../support/line-machine.ts';

const TEASEL = {
  name: 'Teasel stern plate',
  machine: LINE_MACHINE,
  surface: 'heavy pitted rust',
  target: { residueFractionMax: 0.05 },
  coupon: { widthMm: 300, heightMm: 200 },
};

function planOf(change: object = {}): TrialPlan {
  const plan = planTrial(trialRequestSchema.parse({ ...TEASEL, ...change }));
  if (!plan.ok) throw new Error(JSON.stringify(plan.fault));
  return plan.value;
}

describe('planning a trial', () => {
  const plan = planOf();

  it('fits the contract, and each patch is as wide as its line and within the machine', () => {
    trialPlanSchema.parse(plan);
    expect(plan.patches).toHaveLength(8);
    for (const { settings, widthMm } of plan.patches) {
      expect(settings.scanWidthMm).toBe(widthMm);
      for (const dial of ['powerW', 'scanWidthMm', 'scanFrequencyHz', 'travelSpeedMmPerS'] as const) {
        expect(settings[dial]).toBeGreaterThanOrEqual(LINE_MACHINE[dial].min);
        expect(settings[dial]).toBeLessThanOrEqual(LINE_MACHINE[dial].max);
      }
    }
  });

  it.each([2, 5, 8, 12, 20])('keeps a margin round each of %i patches', (count) => {
    const { patches, coupon } = planOf({ patches: count, coupon: { widthMm: 420, heightMm: 300 } });
    const margin = coupon.marginMm;
    patches.forEach((a, i) => {
      expect(a.leftMm).toBeGreaterThanOrEqual(margin);
      expect(a.topMm).toBeGreaterThanOrEqual(margin);
      expect(a.leftMm + a.widthMm).toBeLessThanOrEqual(coupon.widthMm - margin + 1e-9);
      expect(a.topMm + a.heightMm).toBeLessThanOrEqual(coupon.heightMm - margin + 1e-9);
      for (const b of patches.slice(i + 1)) {
        const apart = Math.max(
          b.leftMm - (a.leftMm + a.widthMm),
          a.leftMm - (b.leftMm + b.widthMm),
          b.topMm - (a.topMm + a.heightMm),
          a.topMm - (b.topMm + b.heightMm),
        );
        expect(apart).toBeGreaterThanOrEqual(margin - 1e-9);
      }
    });
  });

  it('runs every patch once, and never one right after the one before it on the coupon', () => {
    const order = plan.patches.map(({ runOrder }) => runOrder);
    expect([...order].sort((a, b) => a - b)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    for (let i = 1; i < order.length; i++) expect(Math.abs(order[i] - order[i - 1])).toBeGreaterThan(1);
  });

  it('tries strokes of very different depth, no two patches alike', () => {
    const fluences = plan.patches.map(({ strokeFluenceJPerCm2 }) => strokeFluenceJPerCm2);
    expect(Math.max(...fluences) / Math.min(...fluences)).toBeGreaterThan(4);
    expect(new Set(plan.patches.map(({ settings }) => JSON.stringify(settings))).size).toBe(8);
  });

  it('plans the same trial for the same question', () => {
    expect(planOf()).toEqual(plan);
  });

  it('refuses patches that do not fit', () => {
    const tiny = planTrial(trialRequestSchema.parse({ ...TEASEL, coupon: { widthMm: 60, heightMm: 40 } }));
    expect(tiny).toMatchObject({ ok: false, fault: { code: 'trial-does-not-fit', patches: 8 } });
  });
});

describe('choosing settings for information', () => {
  it('picks the widest outcome first and then what it does not already tell (hand-computed)', () => {
    const strong = Float64Array.of(0.1, 0.9, 0.1, 0.9);
    const copy = Float64Array.of(0.12, 0.88, 0.12, 0.88);
    const other = Float64Array.of(0.4, 0.4, 0.6, 0.6);
    const certain = Float64Array.of(0.5, 0.5, 0.5, 0.5);
    // Variances over the photo's at the middle: (0.4 / 0.046)^2, (0.38 / 0.046)^2, (0.1 / 0.046)^2, 0. Given the first, the
    // copy keeps 0.38^2 - (0.4 x 0.38)^2 / (0.4^2 + 0.046^2) = 0.0019, less than the other's 0.01.
    const picked = chooseInformative(
      [copy, certain, other, strong].map((residues) => ({ residues })),
      3,
    );
    expect(picked).toEqual([3, 2, 0]);
  });
});
