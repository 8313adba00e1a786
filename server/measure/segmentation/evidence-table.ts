/** One axis of an evidence table: `nodes` equally spaced values from low to high. */
export interface EvidenceAxis {
  readonly low: number;
  readonly high: number;
  readonly nodes: number;
}

/**
 * Evidence (log odds, up to a constant) for each of the five classes at the nodes of a regular grid over one, two or three
 * features, the last axis fastest, classes innermost.
 */
export interface EvidenceTable {
  readonly axes: readonly EvidenceAxis[];
  readonly values: Float32Array;
}

const CLASSES = 5;

/** Reads a table from text: signed bytes in base64, times `unit`. */
export function evidenceTable(axes: readonly EvidenceAxis[], base64: string, unit: number): EvidenceTable {
  const bytes = new Int8Array(Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)).buffer);
  const expected = axes.reduce((product, axis) => product * axis.nodes, CLASSES);
  if (bytes.length !== expected) {
    throw new RangeError(`Expected ${expected} entries of evidence but received ${bytes.length}`);
  }
  return { axes, values: Float32Array.from(bytes, (value) => value * unit) };
}

/**
 * The same evidence on more nodes, by straight interpolation, so that reading the nearest node is as good as interpolating.
 * Values beyond an axis take the evidence of its end.
 */
export function refineTable(table: EvidenceTable, nodes: readonly number[]): EvidenceTable {
  const axes = table.axes.map((axis, k) => ({ ...axis, nodes: nodes[k] }));
  const strides = stridesOf(table.axes);
  const total = nodes.reduce((product, n) => product * n, 1);
  const values = new Float32Array(total * CLASSES);
  const position = new Array<number>(axes.length).fill(0);
  for (let cell = 0; cell < total; cell++) {
    let rest = cell;
    for (let k = axes.length - 1; k >= 0; k--) {
      position[k] = ((rest % nodes[k]) / (nodes[k] - 1)) * (table.axes[k].nodes - 1);
      rest = Math.floor(rest / nodes[k]);
    }
    addInterpolated(table, strides, position, values.subarray(cell * CLASSES, (cell + 1) * CLASSES));
  }
  return { axes, values };
}

function stridesOf(axes: readonly EvidenceAxis[]): number[] {
  const strides = new Array<number>(axes.length).fill(1);
  for (let k = axes.length - 2; k >= 0; k--) strides[k] = strides[k + 1] * axes[k + 1].nodes;
  return strides;
}

function addInterpolated(
  table: EvidenceTable,
  strides: readonly number[],
  position: readonly number[],
  out: Float32Array,
): void {
  const corners = 1 << position.length;
  for (let corner = 0; corner < corners; corner++) {
    let weight = 1;
    let index = 0;
    position.forEach((p, k) => {
      const low = Math.min(Math.floor(p), table.axes[k].nodes - 2);
      const isHigh = (corner >> k) & 1;
      weight *= isHigh === 1 ? p - low : 1 - (p - low);
      index += (low + isHigh) * strides[k];
    });
    if (weight === 0) continue;
    for (let c = 0; c < CLASSES; c++) out[c] += weight * table.values[index * CLASSES + c];
  }
}

/** Index of the node nearest to a feature value; ends hold for what lies beyond them, and for NaN the first. */
export function nearestNode(axis: EvidenceAxis, value: number): number {
  const at = ((value - axis.low) / (axis.high - axis.low)) * (axis.nodes - 1) + 0.5;
  return at >= axis.nodes ? axis.nodes - 1 : at > 0 ? at | 0 : 0;
}
