import ort from 'onnxruntime-node';
import type { InferenceSession } from 'onnxruntime-node';
import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../../measure/colour/lab-planes.ts';
import type { ClassNetwork, LogitTile, NetworkScale } from '../../measure/segmentation/class-network.ts';
import { CHANNELS, foldedTiles } from './folded-tiles.ts';
import { readModelFile } from './model-file.ts';
import { tileSpans } from './tile-plan.ts';
import type { TileSpan } from './tile-plan.ts';

/** Size of a tile at most, px: bounds the memory of one run (about 390 MiB). Wide strips overlap least. */
const MOST_WIDTH = 1216;
const MOST_PIXELS = 800 * 1024;
/** Surroundings that a pixel's answer depends on for the most part, px. */
const MARGIN = 32;
/** Step that the condition of the network is given against, mm. */
const REFERENCE_STEP_MM = 0.25;

/**
 * Threads that wait idle instead of spinning leave the cores to the other work of the machine, and to decoding. Work is dealt
 * out in ever smaller pieces, so that neither core waits long for the other.
 */
const SESSION: InferenceSession.SessionOptions = {
  graphOptimizationLevel: 'all',
  extra: { session: { dynamic_block_base: '4', intra_op: { allow_spinning: '0' } } },
};

/** The trained network of a models folder, opened when first asked. */
export function onnxClassNetwork(modelsFolder: URL): ClassNetwork {
  let opening: Promise<Outcome<OpenModel>> | null = null;
  return {
    async classify(lab, scale, take) {
      opening ??= openModel(modelsFolder);
      const opened = await opening;
      if (!opened.ok) return opened;
      await classifyTiles(opened.value, { lab, scale }, take);
      return success(opened.value.name);
    },
  };
}

interface OpenModel {
  readonly name: string;
  readonly session: InferenceSession;
  /** Room for the input and output of a tile that nobody uses now: fresh memory costs more than a copy. */
  spareRoom: Float32Array | null;
}

async function openModel(modelsFolder: URL): Promise<Outcome<OpenModel>> {
  const file = await readModelFile(modelsFolder);
  if (!file.ok) return file;
  const session = await ort.InferenceSession.create(file.value.bytes, SESSION);
  return success({ name: file.value.name, session, spareRoom: null });
}

async function classifyTiles(
  model: OpenModel,
  { lab, scale }: { lab: LabPlanes; scale: NetworkScale },
  take: (tile: LogitTile) => void,
): Promise<void> {
  const { width, height } = lab.L;
  const condition = new ort.Tensor(
    'float32',
    Float32Array.of(Math.log2(scale.stepMm / REFERENCE_STEP_MM), scale.isColourNormalised ? 0 : 1),
    [1, 2],
  );
  const across = tileSpans(width, MOST_WIDTH, MARGIN);
  const size = across[0].length;
  const down = tileSpans(height, Math.floor(MOST_PIXELS / size), MARGIN);
  const pixels = size * down[0].length;
  const room = roomOf(model, (3 + CHANNELS / 4) * pixels);
  const [input, output] = [room.subarray(0, 3 * pixels), room.subarray(3 * pixels)];
  // Half the size with four pixels a place: see `foldedTiles`.
  const logits = new ort.Tensor('float32', output, [1, CHANNELS, down[0].length / 2, size / 2]);
  for (const rows of down) {
    for (const columns of across) {
      cutTile(lab, columns, rows, input);
      await model.session.run(
        { lab: new ort.Tensor('float32', input, [1, 3, rows.length, size]), condition },
        { logits },
      );
      foldedTiles(output, columns, rows).forEach(take);
    }
  }
  model.spareRoom = room;
}

/** Taken out, so that a second reading at the same time gets its own. */
function roomOf(model: OpenModel, length: number): Float32Array {
  const spare = model.spareRoom;
  model.spareRoom = null;
  return spare?.length === length ? spare : new Float32Array(length);
}

/** Beyond the picture's far sides it is mirrored. */
function cutTile({ L, a, b }: LabPlanes, columns: TileSpan, rows: TileSpan, out: Float32Array): void {
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
}

function mirrored(at: number, side: number): number {
  if (at < side) return at;
  return Math.max(0, 2 * side - 2 - at) % side;
}
