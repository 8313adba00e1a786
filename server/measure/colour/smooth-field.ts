/** What varies over the card in any smooth way: light under a soft shadow or a lamp close by, or light that the print mirrors. */
export interface SmoothField {
  readonly box: FieldBox;
  /** Value at the nodes, row by row; between them it is bilinear. */
  readonly nodes: Float64Array;
}

/** The part of the card that greys were seen on, mm. */
export interface FieldBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** About 25 mm apart on the card: a penumbra of a hand's or a phone's shadow is 10 to 50 mm wide. */
const COLUMNS = 7;
const ROWS = 5;
export const FIELD_NODES = COLUMNS * ROWS;

/** Neighbours among the nodes. */
export const FIELD_PAIRS: readonly (readonly [number, number])[] = Array.from({ length: FIELD_NODES }, (_, k) => [
  ...(k % COLUMNS < COLUMNS - 1 ? [[k, k + 1] as const] : []),
  ...(k + COLUMNS < FIELD_NODES ? [[k, k + COLUMNS] as const] : []),
]).flat();

export function fieldBox(places: readonly (readonly [x: number, y: number])[]): FieldBox {
  const [xs, ys] = [places.map(([x]) => x), places.map(([, y]) => y)];
  const [x, y] = [Math.min(...xs), Math.min(...ys)];
  return { x, y, width: Math.max(1, Math.max(...xs) - x), height: Math.max(1, Math.max(...ys) - y) };
}

/** Calls with the four nodes round a place and their weights; beyond the box the nearest place on its rim answers. */
export function eachFieldNode(
  box: FieldBox,
  [x, y]: readonly [number, number],
  take: (node: number, weight: number) => void,
): void {
  const u = (COLUMNS - 1) * Math.min(1, Math.max(0, (x - box.x) / box.width));
  const v = (ROWS - 1) * Math.min(1, Math.max(0, (y - box.y) / box.height));
  const column = Math.min(COLUMNS - 2, Math.floor(u));
  const row = Math.min(ROWS - 2, Math.floor(v));
  const [p, q] = [u - column, v - row];
  const node = row * COLUMNS + column;
  take(node, (1 - p) * (1 - q));
  take(node + 1, p * (1 - q));
  take(node + COLUMNS, (1 - p) * q);
  take(node + COLUMNS + 1, p * q);
}

/** Value at a place of the card's plane, mm. */
export function fieldAt({ box, nodes }: SmoothField, at: readonly [number, number]): number {
  let sum = 0;
  eachFieldNode(box, at, (node, weight) => {
    sum += weight * nodes[node];
  });
  return sum;
}
