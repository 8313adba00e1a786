import type { ReactNode } from 'react';
import type { TrialPlan } from '@domain/trial.ts';
import { words } from '../../i18n/words.ts';

/** Width and height of the printed card, mm. */
const CARD = { widthMm: 152.4, heightMm: 101.6 } as const;
const EDGE_MM = 4;

/** The coupon as the card's frame sees it, in millimetres. */
export function CouponDrawing({ plan }: { plan: TrialPlan }): ReactNode {
  const { coupon, patches } = plan;
  const [x, y] = plan.couponAtMm;
  const right = Math.max(CARD.widthMm, x + coupon.widthMm);
  const bottom = y + coupon.heightMm;
  return (
    <svg
      className="coupon"
      viewBox={`${-EDGE_MM} ${-EDGE_MM} ${right + 2 * EDGE_MM} ${bottom + 2 * EDGE_MM}`}
      role="img"
      aria-label={words.trials.planAlt(patches.length)}
    >
      <rect width={CARD.widthMm} height={CARD.heightMm} className="coupon-card" />
      <text x={CARD.widthMm / 2} y={CARD.heightMm / 2 + 4}>
        {words.trials.card}
      </text>
      <rect x={x} y={y} width={coupon.widthMm} height={coupon.heightMm} className="coupon-edge" />
      {patches.map((patch) => (
        <g key={patch.name}>
          <rect
            x={x + patch.leftMm}
            y={y + patch.topMm}
            width={patch.widthMm}
            height={patch.heightMm}
            className="coupon-patch"
          />
          <text x={x + patch.leftMm + patch.widthMm / 2} y={y + patch.topMm + patch.heightMm / 2 + 4}>
            {patch.name}
          </text>
        </g>
      ))}
    </svg>
  );
}
