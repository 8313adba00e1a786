import { type EarlierZone, type Machine, type Round } from '../../domain/index.ts';
import { minutesPerSquareMetreOf } from '../../domain/kinematics/area-rate.ts';
import { effortFactor } from '../advice/effort-factor.ts';

/** Beam minutes for a square metre, by the hand's real speed where it was measured; neighbouring swaths overlap. */
export function roundMinutes({ settings, measuredTravelSpeedMmPerS: seen }: Round, machine: Machine): number {
  const intended = seen === undefined ? 1 : settings.travelSpeedMmPerS / seen.value;
  return minutesPerSquareMetreOf(settings) * intended * effortFactor(settings, machine);
}

const LEAST_SHARE = 0.02;

export interface BeamShare {
  /** Null where no zone tells it. */
  readonly share: number | null;
  readonly zones: number;
  /** Zones whose working time is shorter than the beam alone takes: stated wrongly, or not treated all over. */
  readonly doubted: number;
}

/** Share of the working time with the beam on, over all zones that state area and time. */
export function beamShareOf(zones: readonly EarlierZone[], machine: Machine): BeamShare {
  let [beam, work, count, doubted] = [0, 0, 0, 0];
  for (const { rounds, areaM2, workMinutes } of zones) {
    if (areaM2 === undefined || workMinutes === undefined) continue;
    const minutes = areaM2 * rounds.reduce((sum, round) => sum + roundMinutes(round, machine), 0);
    if (minutes > workMinutes) {
      doubted++;
      continue;
    }
    beam += minutes;
    work += workMinutes;
    count++;
  }
  return { share: count === 0 ? null : Math.max(LEAST_SHARE, beam / work), zones: count, doubted };
}
