import { historySchema, type History, type Machine, type Settings } from '../../server/domain/index.ts';
import { LINE_MACHINE } from './line-machine.ts';

/** One round in short: settings, residue before and after, and the half width of the photo's interval. */
export interface ShortRound {
  readonly settings: Settings;
  readonly before: number;
  readonly after: number;
  readonly half?: number;
  readonly scrapeTest?: 'clean' | 'material came off';
  readonly heatTint?: boolean;
}

export interface ShortHistory {
  readonly machine?: Machine;
  readonly surface?: string;
  readonly thicknessMm?: number;
  readonly target?: number;
  readonly rounds?: readonly ShortRound[];
}

/** A history of one zone with a target of 5 % on {@link LINE_MACHINE} unless told otherwise. */
export function zoneHistory(short: ShortHistory): History {
  const { machine = LINE_MACHINE, surface, thicknessMm, target = 0.05, rounds = [] } = short;
  return historySchema.parse({
    machine,
    target: { residueFractionMax: target },
    rounds: rounds.map(({ settings, before, after, half, ...evidence }) => ({
      settings,
      before: { residueFraction: before },
      after: {
        residueFraction: after,
        ...(half === undefined ? {} : { low: Math.max(0, after - half), high: Math.min(1, after + half) }),
      },
      ...evidence,
    })),
    ...(surface === undefined ? {} : { surface }),
    ...(thicknessMm === undefined ? {} : { thicknessMm }),
  });
}
