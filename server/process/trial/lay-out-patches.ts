import { failure, type Machine, type Outcome, success, type TrialRequest } from '../../domain/index.ts';

/** Bare edge that is left round the coupon and between patches, where nobody says otherwise. Common practice. */
export const USUAL_MARGIN_MM = 8;
/** A patch has to be at least this long and wide to be told from its edges in a photo. */
const LEAST_SIDE_MM = 18;
/** Patches are made as long as useful and no longer: a hand needs a few centimetres to walk evenly. Common practice. */
const MOST_LENGTH_MM = 80;

export interface PatchPlace {
  readonly name: string;
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/**
 * Equal patches in rows and columns with a margin round each. A patch is as wide as the line that treats it, so its width
 * is one that the machine can sweep; the hand travels down it.
 */
export function layOutPatches(request: TrialRequest, count: number): Outcome<PatchPlace[]> {
  const { coupon, machine } = request;
  const margin = coupon.marginMm ?? USUAL_MARGIN_MM;
  let best: { columns: number; rows: number; widthMm: number; heightMm: number } | null = null;
  for (let columns = 1; columns <= count; columns++) {
    const rows = Math.ceil(count / columns);
    const widthMm = sweptWidth((coupon.widthMm - margin) / columns - margin, machine);
    const heightMm = Math.min(MOST_LENGTH_MM, (coupon.heightMm - margin) / rows - margin);
    if (widthMm === null || heightMm < LEAST_SIDE_MM) continue;
    if (best === null || Math.min(widthMm, heightMm) > Math.min(best.widthMm, best.heightMm)) {
      best = { columns, rows, widthMm, heightMm };
    }
  }
  if (best === null) {
    return failure({
      code: 'trial-does-not-fit',
      patches: count,
      widthMm: coupon.widthMm,
      heightMm: coupon.heightMm,
      leastSideMm: Math.max(LEAST_SIDE_MM, machine.scanWidthMm.min),
    });
  }
  const { columns, widthMm, heightMm } = best;
  return success(
    Array.from({ length: count }, (_, index) => {
      const [row, column] = [Math.floor(index / columns), index % columns];
      return {
        name: `${String.fromCharCode(65 + row)}${column + 1}`,
        leftMm: margin + column * (widthMm + margin),
        topMm: margin + row * (Math.floor(heightMm) + margin),
        widthMm,
        heightMm: Math.floor(heightMm),
      };
    }),
  );
}

/** Widest line in whole 5 mm steps that fits and that the machine can sweep; null when none does. */
function sweptWidth(roomMm: number, { scanWidthMm: { min, max } }: Machine): number | null {
  const stepped = Math.floor(roomMm / 5) * 5;
  const width = Math.min(max, stepped >= min ? stepped : Math.floor(roomMm));
  return width >= Math.max(min, LEAST_SIDE_MM) ? width : null;
}
