import { gaugeStudy } from '../../fixtures/generate/scene/gauge-study.ts';
import { throughJpeg } from '../../fixtures/generate/scene/encode-photo.ts';
import { renderScene } from '../../fixtures/generate/scene/render-scene.ts';
import { renderSurface } from '../../fixtures/generate/surface/render-surface.ts';
import { readSurface } from '../../server/measure/read-surface.ts';
import type { MeasuringTools } from '../../server/measure/read-surface.ts';
import { readCard } from '../../server/measure/view-surface.ts';
import { surfaceZone } from './scene-truth.ts';

export interface GaugeTask {
  readonly kind: 'gauge';
  readonly seed: number;
}

export interface GaugeRow {
  readonly task: GaugeTask;
  readonly trueResidue: number;
  readonly residues: readonly number[];
  readonly missed: number;
}

/** One surface under five lights, two exposures and three angles. */
export async function measureGauge(task: GaugeTask, tools: MeasuringTools): Promise<GaugeRow> {
  const study = gaugeStudy(task.seed, { longSidePx: 1600, withCard: true });
  const surface = renderSurface(study.surface);
  const residues: number[] = [];
  let trueResidue = 0;
  for (const { spec } of study.scenes) {
    const rendered = renderScene(spec, { surface, quickTruth: true });
    trueResidue = rendered.truth.zone.residue;
    const photo = await throughJpeg(rendered.photo, spec.file.quality);
    const card = readCard(photo, null, tools.kernel);
    if (!card.ok || card.value.located === null) continue;
    const zone = surfaceZone(rendered.truth.zone.polygonMm);
    const reading = await readSurface(
      { photo, sha256: '0'.repeat(64), card: card.value, zone, isMeasuredCard: false },
      tools,
    );
    if (reading.ok) residues.push(reading.value.surface.residue.value);
  }
  return { task, trueResidue, residues, missed: study.scenes.length - residues.length };
}
