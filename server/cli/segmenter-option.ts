import { Option } from 'commander';
import type { SegmenterName, Tools } from '../wiring.ts';

/** Which segmenter tells the classes apart. */
export const segmenterOption = (): Option =>
  new Option('--segmenter <name>', 'trained network, or the explainable colour classifier')
    .choices(['network', 'colour'] satisfies SegmenterName[])
    .default('network');

/** The tools with the segmenter that was asked for. */
export const withSegmenter = (tools: Tools, name: SegmenterName): Tools => ({
  ...tools,
  segmenter: tools.segmenterNamed(name),
});
