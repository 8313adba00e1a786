import { describe, expect, it } from 'vitest';
import { coarseRounds } from '../../../../server/process/advice/coarse-rounds.ts';
import { planRound, type Planning, prospectOf } from '../../../../server/process/advice/round-prospect.ts';
import { valueOfKnowing } from '../../../../server/process/advice/value-of-knowing.ts';
import { sampleBelief } from '../../../../server/process/belief/belief-sample.ts';
import { believeSurface } from '../../../../server/process/belief/surface-belief.ts';
import { removalPriorOf } from '../../../../server/domain/removal/removal-prior.ts';
import { settingsOf } from '../../../support/line-machine.ts';
import { zoneHistory } from '../../../support/treated-zone.ts';

const history = zoneHistory({ surface: 'tight oxide' });
const planning: Planning = planRound(
  history,
  sampleBelief(believeSurface(history, removalPriorOf('tight oxide')), 128),
);
const value = valueOfKnowing(planning, coarseRounds(planning));
const prospect = (scanWidthMm: number, scanFrequencyHz: number, travelSpeedMmPerS: number, powerW = 2000) =>
  prospectOf(planning, settingsOf({ powerW, scanWidthMm, scanFrequencyHz, travelSpeedMmPerS }));
const patchOf = (...dials: Parameters<typeof prospect>) => value.afterPatch(prospect(...dials));

describe('the value of knowing a surface', () => {
  it('is never more than that of knowing it for certain (law of the value of information)', () => {
    expect(value.certain).toBeLessThan(value.untried);
    for (const patch of [patchOf(300, 30, 20), patchOf(100, 10, 5), patchOf(20, 10, 5)]) {
      expect(patch.minutes).toBeGreaterThanOrEqual(value.certain);
    }
  });

  it('is nothing for a patch that leaves every surface as it was', () => {
    const [weakest, telling] = [prospect(300, 200, 60, 300), patchOf(300, 10, 8.5)];
    weakest.residues.forEach((residue, surface) => {
      expect(residue).toBeGreaterThan(0.99 * planning.sample.residueNow[surface]);
    });
    const idle = value.afterPatch(weakest);
    expect(value.untried - idle.minutes).toBeLessThan(0.01 * (value.untried - telling.minutes));
    expect(idle.exposedShare).toBe(0);
  });

  it('tells hopeless surfaces from others with a deep patch, and not with a gentle one', () => {
    expect(patchOf(20, 10, 5).exposedShare).toBeGreaterThan(patchOf(300, 50, 20).exposedShare);
  });
});
