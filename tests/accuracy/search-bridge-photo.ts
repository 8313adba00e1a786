import { readFileSync } from 'node:fs';
import { sharpPhotoDecoder } from '../../server/adapters/image/sharp-photo-decoder.ts';
import { locateCard } from '../../server/measure/card/locate-card.ts';
import type { MeasuringTools } from '../../server/measure/read-surface.ts';

export interface BridgeTask {
  readonly kind: 'bridge';
  readonly seed: number;
  readonly files: readonly string[];
}

export interface BridgeRow {
  readonly task: BridgeTask;
  /** Files in which a card, or something taken for one, was seen. */
  readonly alarms: readonly string[];
  readonly looked: number;
}

/** Photos of corroded bridges hold no card: anything but "none in view" is a false alarm. */
export async function searchBridgePhotos(task: BridgeTask, tools: MeasuringTools): Promise<BridgeRow> {
  const decoder = sharpPhotoDecoder();
  const alarms: string[] = [];
  let looked = 0;
  for (const file of task.files) {
    const decoded = await decoder.decode(readFileSync(file));
    if (!decoded.ok) continue;
    looked++;
    const search = locateCard(decoded.value.raster, tools.kernel);
    if (!search.ok || search.value !== null) alarms.push(`${file}: ${search.ok ? 'card' : search.fault.code}`);
  }
  return { task, alarms, looked };
}
