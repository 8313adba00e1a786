/**
 * Writes what tells the textures of patches apart, with the truth beside it, for fit-textures.py to learn from.
 *
 *   npx tsx models/train/compare/dump-textures.ts FIRST_SEED LAST_SEED [STEP] >ROWS.jsonl
 *
 * Comparison sheets as they are drawn for `npm run accuracy`, one a line; on every third the second patch is treated like the
 * first. Each patch comes whole and in two halves, which were treated alike.
 */
import { comparisonFromSeed, renderComparison } from '../../../fixtures/generate/scene/comparison-sheet.ts';
import type { ComparisonSpec } from '../../../fixtures/generate/scene/comparison-sheet.ts';
import { throughJpeg } from '../../../fixtures/generate/scene/encode-photo.ts';
import { renderSurface } from '../../../fixtures/generate/surface/render-surface.ts';
import { areaTruth } from '../../../fixtures/generate/surface/surface-truth.ts';
import type { GridRectangle } from '../../../fixtures/generate/surface/surface-truth.ts';
import { bareAppearance } from '../../../fixtures/generate/surface/texture-contrast.ts';
import { readSurface } from '../../../server/measure/read-surface.ts';
import { evenTexture } from '../../../server/measure/residue/even-texture.ts';
import type { EvenTexture } from '../../../server/measure/residue/even-texture.ts';
import { readCard } from '../../../server/measure/view-surface.ts';
import { wireTools } from '../../../server/wiring.ts';
import { halvesOf } from '../../../tests/accuracy/measure-comparison.ts';
import { surfaceZone } from '../../../tests/accuracy/scene-truth.ts';

type Vertex = readonly [number, number];

const TWINS_EVERY = 3;

const tools = wireTools();
const [firstSeed, lastSeed, step = '1'] = process.argv.slice(2);
for (let seed = Number(firstSeed); seed < Number(lastSeed); seed += Number(step)) await dumpSheet(seed);

async function dumpSheet(seed: number): Promise<void> {
  const hasTwins = seed % TWINS_EVERY === 0;
  const drawn = comparisonFromSeed(seed, { withCard: true });
  const spec = hasTwins ? withTwins(drawn) : drawn;
  const surface = renderSurface(spec.scene.surface);
  const { photo: rendered, zones } = renderComparison(spec, { surface });
  const photo = await throughJpeg(rendered, spec.scene.file.quality);
  const card = readCard(photo, null, tools.kernel);
  if (!card.ok) return;
  const textureOf = async (polygon: readonly Vertex[]): Promise<EvenTexture | null> => {
    const question = { photo, sha256: '0'.repeat(64), card: card.value, isMeasuredCard: false };
    const reading = await readSurface({ ...question, zone: surfaceZone(polygon) }, tools);
    return reading.ok ? evenTexture(reading.value) : null;
  };
  const patches = [];
  const halves = [];
  for (const { name, zone } of spec.patches) {
    const { polygonMm, bare } = zones[name];
    patches.push({ name, contrast: bare?.textureContrast ?? null, texture: await textureOf(polygonMm) });
    const areas = halfAreas(zone);
    halves.push({
      contrasts: areas.map((area) => bareAppearance(surface.state, area)?.textureContrast ?? null),
      residues: areas.map((area) => areaTruth(surface.state.grid, surface.state, area).residue),
      textures: await Promise.all(halvesOf(polygonMm).map(textureOf)),
    });
  }
  process.stdout.write(`${JSON.stringify({ seed, hasTwins, patches, halves })}\n`);
}

function withTwins(drawn: ComparisonSpec): ComparisonSpec {
  const { surface } = drawn.scene;
  const [one, two, ...rest] = surface.treatments;
  const twin = { ...one, seed: two.seed, area: two.area, steel: { ...one.steel, seed: two.steel.seed } };
  return { ...drawn, scene: { ...drawn.scene, surface: { ...surface, treatments: [one, twin, ...rest] } } };
}

function halfAreas(zone: GridRectangle): GridRectangle[] {
  const middle = (zone.x0 + zone.x1) / 2;
  return [
    { ...zone, x1: middle },
    { ...zone, x0: middle },
  ];
}
