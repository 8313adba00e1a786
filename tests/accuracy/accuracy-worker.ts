import { wireTools } from '../../server/wiring.ts';
import { measureComparison } from './measure-comparison.ts';
import type { ComparisonRow, ComparisonTask } from './measure-comparison.ts';
import { measureGauge } from './measure-gauge.ts';
import type { GaugeRow, GaugeTask } from './measure-gauge.ts';
import { measureScene } from './measure-scene.ts';
import type { SceneRow, SceneTask } from './measure-scene.ts';
import { searchBridgePhotos } from './search-bridge-photo.ts';
import type { BridgeRow, BridgeTask } from './search-bridge-photo.ts';

export type AccuracyTask = SceneTask | ComparisonTask | GaugeTask | BridgeTask;
export type AccuracyRow = SceneRow | ComparisonRow | GaugeRow | BridgeRow;

/** Works through tasks sent by the parent process, one at a time. */
const tools = wireTools({ segmenter: process.argv[3] === 'colour' ? 'colour' : 'network' });
const shared = process.argv[2];

process.on('message', (task: AccuracyTask) => {
  void answer(task).then((row) => process.send?.(row));
});
process.send?.('ready');

function answer(task: AccuracyTask): Promise<AccuracyRow> {
  switch (task.kind) {
    case 'scene':
      return measureScene(task, shared, tools);
    case 'comparison':
      return measureComparison(task, tools);
    case 'gauge':
      return measureGauge(task, tools);
    case 'bridge':
      return searchBridgePhotos(task, tools);
  }
}
