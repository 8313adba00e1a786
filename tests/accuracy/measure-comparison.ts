import { comparisonFromSeed, renderComparison } from '../../fixtures/generate/scene/comparison-sheet.ts';
import { throughJpeg } from '../../fixtures/generate/scene/encode-photo.ts';
import { gridToPlane } from '../../server/measure/geometry/surface-grid.ts';
import { comparePatches } from '../../server/measure/compare-patches.ts';
import { readSurface } from '../../server/measure/read-surface.ts';
import type { MeasuringTools, SurfaceReading } from '../../server/measure/read-surface.ts';
import { readCard } from '../../server/measure/view-surface.ts';
import type { SceneTruth } from '../../fixtures/generate/scene/render-scene.ts';
import { surfaceZone, trueClassAt } from './scene-truth.ts';

type Vertex = readonly [number, number];

export interface ComparisonTask {
  readonly kind: 'comparison';
  readonly seed: number;
}

export interface ComparisonRow {
  readonly task: ComparisonTask;
  readonly fault: string | null;
  readonly pairs: readonly PairRow[];
}

export interface PairRow {
  readonly isHalved: boolean;
  readonly trueResidue: readonly [number, number];
  readonly trueTexture: readonly [number | null, number | null];
  readonly residue: string;
  readonly texture: string;
  readonly because: string;
}

/** Patches of one sheet against each other, and the two halves of each patch, which were treated alike. */
export async function measureComparison(task: ComparisonTask, tools: MeasuringTools): Promise<ComparisonRow> {
  const { spec, photo: rendered, truth, zones } = renderComparison(comparisonFromSeed(task.seed, { withCard: true }));
  const photo = await throughJpeg(rendered, spec.scene.file.quality);
  const card = readCard(photo, null, tools.kernel);
  if (!card.ok) return { task, fault: card.fault.code, pairs: [] };
  const read = async (polygon: readonly Vertex[]): Promise<SurfaceReading | null> => {
    const reading = await readSurface(
      { photo, sha256: '0'.repeat(64), card: card.value, zone: surfaceZone(polygon), isMeasuredCard: false },
      tools,
    );
    return reading.ok ? reading.value : null;
  };
  const patches: { name: string; reading: SurfaceReading; texture: number | null; residue: number }[] = [];
  const pairs: PairRow[] = [];
  for (const [name, zone] of Object.entries(zones)) {
    const reading = await read(zone.polygonMm);
    if (reading === null) continue;
    patches.push({ name, reading, residue: zone.residue, texture: zone.bare?.textureContrast ?? null });
    const [first, second] = await Promise.all(halvesOf(zone.polygonMm).map(read));
    if (first === null || second === null) continue;
    const shares = [trueResidueOf(truth, first), trueResidueOf(truth, second)] as const;
    const [called] = comparePatches([
      ['a', first],
      ['b', second],
    ]);
    pairs.push({ isHalved: true, trueResidue: shares, trueTexture: [null, null], ...called });
  }
  const calls = comparePatches(patches.map(({ name, reading }) => [name, reading] as const));
  for (const call of calls) {
    const [first, second] = [call.a, call.b].map((name) => patches.find((patch) => patch.name === name));
    if (first === undefined || second === undefined) continue;
    pairs.push({
      isHalved: false,
      trueResidue: [first.residue, second.residue],
      trueTexture: [first.texture, second.texture],
      ...call,
    });
  }
  return { task, fault: null, pairs };
}

/** The left and the right half of a patch, which were treated alike. */
export function halvesOf([a, b, c, d]: readonly Vertex[]): Vertex[][] {
  const middle = (p: Vertex, q: Vertex): Vertex => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2];
  return [
    [a, middle(a, b), middle(c, d), d],
    [middle(a, b), b, c, middle(c, d)],
  ];
}

/** Counted from the true class map, pixel by pixel of the reading's raster. */
function trueResidueOf(truth: SceneTruth, { view }: SurfaceReading): number {
  let residue = 0;
  let known = 0;
  for (let i = 0; i < view.zone.values.length; i++) {
    if (view.zone.values[i] === 0) continue;
    const column = (i % view.grid.width) + 0.5;
    const row = Math.floor(i / view.grid.width) + 0.5;
    const code = trueClassAt(truth, gridToPlane(view.grid, column, row));
    if (code === 0) continue;
    known++;
    if (code >= 3) residue++;
  }
  return residue / Math.max(1, known);
}
