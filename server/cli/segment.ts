import { writeFile } from 'node:fs/promises';
import { InvalidArgumentError } from 'commander';
import type { Command } from 'commander';
import { segmentPhoto } from '../services/segment-photo.ts';
import type { SegmenterName, Tools } from '../wiring.ts';
import { valueOrFault } from './command-result.ts';
import { readInput } from './files.ts';
import { segmenterOption, withSegmenter } from './segmenter-option.ts';

interface SegmentOptions {
  readonly photo: string;
  readonly out: string;
  readonly mmPerPixel?: number;
  readonly segmenter: SegmenterName;
}

export function addSegmentCommand(program: Command, tools: Tools): void {
  program
    .command('segment')
    .description(
      'write the class map alone, the size of the upright photo: 0 not measured, 1 bare, 2 stain, 3 rust, 4 scale, 5 coating',
    )
    .requiredOption('--photo <file>', 'photo; no card is needed')
    .requiredOption('--out <file.png>', 'class map to write, 8-bit grey PNG')
    .option('--mm-per-pixel <n>', 'scale of a photo without a card', readScale)
    .addOption(segmenterOption())
    .addHelpText(
      'after',
      '\nExample: npx bareplate segment --photo stern-plate.jpg --out classes.png --mm-per-pixel 0.2',
    )
    .action(async (options: SegmentOptions) => {
      const file = valueOrFault(await readInput(options.photo, 'photo'));
      if (file === null) return;
      const map = valueOrFault(
        await segmentPhoto({ file, mmPerPixel: options.mmPerPixel ?? null }, withSegmenter(tools, options.segmenter)),
      );
      if (map !== null) await writeFile(options.out, map);
    });
}

function readScale(text: string): number {
  const scale = Number(text);
  if (!(scale > 0) || !Number.isFinite(scale)) throw new InvalidArgumentError('expected a number above 0');
  return scale;
}
