import { fraction, statedResidue } from '../domain/index.ts';
import type { Assessment, Measured, Round, Settings, Surface } from '../domain/index.ts';
import { worstSquareResidue } from '../measure/grade/worst-square-shares.ts';

/** What is known of a round besides its photos. */
export interface StatedRound {
  readonly settings: Settings;
  readonly scrapeTest?: Round['scrapeTest'] | null | undefined;
  /** Straw to blue colours seen by a person, who sees better than the photo. */
  readonly heatTint?: boolean | null | undefined;
}

/** Below this the tint is as likely a reflection. Chosen by us. */
const HEAT_TINT_SHARE = 0.02;

/** A round as advice takes it. @param before share of residue that it began with */
export function measuredRound(
  { settings, scrapeTest, heatTint }: StatedRound,
  { after, streaks }: Pick<Assessment, 'after' | 'streaks'>,
  before: number,
): Round {
  const speed = surelyMoving(streaks.travelSpeedMmPerS);
  const worst = worstSquareResidue(after);
  return {
    settings,
    before: { residueFraction: fraction(before) },
    after: { ...statedResidue(after.residue), ...(worst === null ? {} : { worstSquare: statedResidue(worst) }) },
    heatTint: heatTint ?? hasHeatTint(after),
    ...(scrapeTest === null || scrapeTest === undefined ? {} : { scrapeTest }),
    ...(speed === null ? {} : { measuredTravelSpeedMmPerS: speed }),
  };
}

/** A travel speed as streaks gave it; null where it may as well be none. */
export const surelyMoving = (speed: Measured | null | undefined): Measured | null =>
  speed !== null && speed !== undefined && speed.low > 0 ? speed : null;

export const hasHeatTint = ({ appearance }: Surface): boolean => appearance.heatTintFraction > HEAT_TINT_SHARE;
