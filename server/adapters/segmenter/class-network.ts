import { success } from '../../domain/index.ts';
import type { Outcome } from '../../domain/index.ts';
import type { LabPlanes } from '../../measure/colour/lab-planes.ts';
import type { ClassNetwork, LogitTile, NetworkScale } from '../../measure/segmentation/class-network.ts';
import { foldedTiles } from './folded-tiles.ts';
import { readModelFile } from './model-file.ts';
import { answerIn, roomLength, startNetworkThread } from './network-thread.ts';
import type { NetworkThread } from './network-thread.ts';
import { tileSpans } from './tile-plan.ts';
import type { TileSpan } from './tile-plan.ts';

/** Size of a tile at most, px: bounds the memory of one run (about 390 MiB). Wide strips overlap least. */
const MOST_WIDTH = 1216;
const MOST_PIXELS = 800 * 1024;
/** Surroundings that a pixel's answer depends on for the most part, px. */
const MARGIN = 32;
/** Step that the condition of the network is given against, mm. */
const REFERENCE_STEP_MM = 0.25;

/** The trained network of a models folder, opened when first asked. */
export function onnxClassNetwork(modelsFolder: URL): ClassNetwork {
  let opening: Promise<Outcome<OpenModel>> | null = null;
  return {
    async classify(lab, scale, take, meanwhile) {
      // A thread that failed answers no more: the next call gets a new one.
      opening ??= openModel(modelsFolder, () => (opening = null));
      const opened = await opening;
      if (!opened.ok) return opened;
      await classifyTiles(opened.value, { lab, scale }, { take, meanwhile });
      return success(opened.value.name);
    },
  };
}

interface OpenModel {
  readonly name: string;
  readonly thread: NetworkThread;
  /** Rooms for tiles that nobody uses now: fresh memory costs more than a copy. */
  readonly spareRooms: Float32Array<ArrayBuffer>[];
}

async function openModel(modelsFolder: URL, onFailed: () => void): Promise<Outcome<OpenModel>> {
  const file = await readModelFile(modelsFolder);
  if (!file.ok) return file;
  const { name, bytes } = file.value;
  return success({ name, thread: startNetworkThread(bytes, onFailed), spareRooms: [] });
}

interface Caller {
  readonly take: (tile: LogitTile) => void;
  readonly meanwhile: (() => void) | undefined;
}

/** While the network tells a tile, the one before it is handed over. */
async function classifyTiles(
  model: OpenModel,
  { lab, scale }: { lab: LabPlanes; scale: NetworkScale },
  { take, meanwhile }: Caller,
): Promise<void> {
  const { width, height } = lab.L;
  const condition = Float32Array.of(Math.log2(scale.stepMm / REFERENCE_STEP_MM), scale.isColourNormalised ? 0 : 1);
  const across = tileSpans(width, MOST_WIDTH, MARGIN);
  const size = across[0].length;
  const down = tileSpans(height, Math.floor(MOST_PIXELS / size), MARGIN);
  const pixels = size * down[0].length;
  let handOver = meanwhile;
  for (const rows of down) {
    for (const columns of across) {
      const room = roomOf(model, roomLength(pixels));
      cutTile(lab, columns, rows, room);
      const telling = model.thread.tell({ room, width: size, height: rows.length, condition });
      handOver?.();
      const told = await telling;
      handOver = () => {
        foldedTiles(answerIn(told, pixels), columns, rows).forEach(take);
        model.spareRooms.push(told);
      };
    }
  }
  handOver?.();
}

/** Rooms of another size are let go: one zone's tiles are alike. */
function roomOf(model: OpenModel, length: number): Float32Array<ArrayBuffer> {
  const room = model.spareRooms.pop();
  return room?.length === length ? room : new Float32Array(length);
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
