import ort from 'onnxruntime-node';
import type { InferenceSession, Tensor } from 'onnxruntime-node';
import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../../measure/colour/lab-planes.ts';
import type { ClassLogits, ClassNetwork, NetworkScale } from '../../measure/segmentation/class-network.ts';
import { readModelFile } from './model-file.ts';
import { tileSpans } from './tile-plan.ts';
import type { TileSpan } from './tile-plan.ts';

const CLASSES = 6;
/** Sides of a tile at most, px: bounds the memory of one run (about 150 MiB). */
const MOST_TILE = 704;
/** Surroundings that a pixel's answer depends on for the most part, px. */
const MARGIN = 32;
/** Step that the condition of the network is given against, mm. */
const REFERENCE_STEP_MM = 0.25;

/** Threads that wait idle instead of spinning leave the cores to the other work of the machine, and to decoding. */
const SESSION: InferenceSession.SessionOptions = {
  graphOptimizationLevel: 'all',
  extra: { session: { intra_op: { allow_spinning: '0' } } },
};

/** The trained network of a models folder, opened when first asked. */
export function onnxClassNetwork(modelsFolder: URL): ClassNetwork {
  let opening: Promise<Outcome<OpenModel>> | null = null;
  return {
    async classify(lab, scale) {
      opening ??= openModel(modelsFolder);
      const opened = await opening;
      if (!opened.ok) return opened;
      const { name, session } = opened.value;
      return success({ network: name, logits: await classifyTiles(session, lab, scale) });
    },
  };
}

interface OpenModel {
  readonly name: string;
  readonly session: InferenceSession;
}

async function openModel(modelsFolder: URL): Promise<Outcome<OpenModel>> {
  const file = await readModelFile(modelsFolder);
  if (!file.ok) return file;
  const session = await ort.InferenceSession.create(file.value.bytes, SESSION);
  return success({ name: file.value.name, session });
}

async function classifyTiles(session: InferenceSession, lab: LabPlanes, scale: NetworkScale): Promise<ClassLogits> {
  const { width, height } = lab.L;
  const logits = Array.from({ length: CLASSES }, () => new Float32Array(width * height));
  const condition = new ort.Tensor(
    'float32',
    Float32Array.of(Math.log2(scale.stepMm / REFERENCE_STEP_MM), scale.isColourNormalised ? 0 : 1),
    [1, 2],
  );
  for (const rows of tileSpans(height, MOST_TILE, MARGIN)) {
    for (const columns of tileSpans(width, MOST_TILE, MARGIN)) {
      const input = new ort.Tensor('float32', cutTile(lab, columns, rows), [1, 3, rows.length, columns.length]);
      const answer = await session.run({ lab: input, condition });
      const { logits: tile } = answer as { logits: Tensor };
      keepTile(tile.data as Float32Array, { columns, rows }, logits, width);
      tile.dispose();
    }
  }
  return { width, height, planes: logits };
}

/** Beyond the picture's far sides it is mirrored. */
function cutTile({ L, a, b }: LabPlanes, columns: TileSpan, rows: TileSpan): Float32Array {
  const out = new Float32Array(3 * rows.length * columns.length);
  let to = 0;
  for (const { values, width, height } of [L, a, b]) {
    for (let y = 0; y < rows.length; y++) {
      const line = mirrored(rows.from + y, height) * width;
      const inside = Math.min(columns.length, width - columns.from);
      out.set(values.subarray(line + columns.from, line + columns.from + inside), to);
      for (let x = inside; x < columns.length; x++) out[to + x] = values[line + mirrored(columns.from + x, width)];
      to += columns.length;
    }
  }
  return out;
}

function mirrored(at: number, side: number): number {
  if (at < side) return at;
  return Math.max(0, 2 * side - 2 - at) % side;
}

function keepTile(
  answer: Float32Array,
  { columns, rows }: { columns: TileSpan; rows: TileSpan },
  logits: readonly Float32Array[],
  width: number,
): void {
  const tile = rows.length * columns.length;
  for (let k = 0; k < CLASSES; k++) {
    for (let y = rows.keepFrom; y < rows.keepTo; y++) {
      const from = k * tile + (y - rows.from) * columns.length - columns.from;
      logits[k].set(answer.subarray(from + columns.keepFrom, from + columns.keepTo), y * width + columns.keepFrom);
    }
  }
}
