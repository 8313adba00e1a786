import { writeFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { assessPhotos } from '../services/assess-photos.ts';
import type { AssessmentRequest } from '../services/assess-photos.ts';
import type { Outcome } from '../domain/index.ts';
import { success } from '../domain/index.ts';
import { drawOverlay } from '../services/draw-overlay.ts';
import type { SegmenterName, Tools } from '../wiring.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, readInputText, writeJson } from './files.ts';
import { segmenterOption, withSegmenter } from './segmenter-option.ts';
import { readSettings } from './settings-option.ts';
import { ZONE_HELP, readZone } from './zone-option.ts';

interface AssessOptions {
  readonly after: string;
  readonly before?: string;
  readonly zone?: string;
  readonly zoneBefore?: string;
  readonly cardValues?: string;
  readonly settings?: string;
  readonly target?: string;
  readonly overlay?: string;
  readonly out?: string;
  readonly segmenter: SegmenterName;
}

export function addAssessCommand(program: Command, tools: Tools): void {
  program
    .command('assess')
    .description('measure what is left on the surface, compare with the grades and advise the next setting')
    .requiredOption('--after <file>', 'photo of the zone as it is now')
    .option('--before <file>', 'photo of the same zone before this round')
    .option('--zone <spec>', `zone in the after photo (and before, unless --zone-before): ${ZONE_HELP}`)
    .option('--zone-before <spec>', 'zone in the before photo')
    .option('--card-values <file>', "the card's measured patches, CGATS.17 text")
    .option('--settings <file>', 'settings of this round, JSON; may hold the machine and the surface kind')
    .option('--target <grade>', 'grade to reach, such as "Sa 2 1/2" or "SP 10"')
    .option('--overlay <file.png>', 'also draw what was measured on the after photo')
    .addOption(segmenterOption())
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText(
      'after',
      '\nExample: npx bareplate assess --before stern-before.jpg --after stern-after.jpg --zone mm:160,-50,360,100 --target "Sa 2 1/2"',
    )
    .action(async (options: AssessOptions) => {
      const request = valueOrFault(await readRequest(options));
      if (request === null) return;
      const reading = valueOrFault(await assessPhotos(request, withSegmenter(tools, options.segmenter)));
      if (reading === null) return;
      if (options.overlay !== undefined) {
        await writeFile(options.overlay, await drawOverlay('After', reading, tools.painter));
      }
      await writeJson(reading.assessment, options.out);
    });
}

async function readRequest(options: AssessOptions): Promise<Outcome<AssessmentRequest>> {
  const after = await readInput(options.after, 'after photo');
  if (!after.ok) return after;
  const before = options.before === undefined ? success(null) : await readInput(options.before, 'before photo');
  if (!before.ok) return before;
  const zone = await readZone(options.zone);
  if (!zone.ok) return zone;
  const zoneBefore = await readZone(options.zoneBefore ?? options.zone);
  if (!zoneBefore.ok) return zoneBefore;
  const cardValues =
    options.cardValues === undefined ? success(null) : await readInputText(options.cardValues, 'card values');
  if (!cardValues.ok) return cardValues;
  const settings = await readSettings(options.settings);
  if (!settings.ok) return settings;
  return success({
    after: after.value,
    before: before.value,
    zone: zone.value,
    zoneBefore: zoneBefore.value,
    cardValues: cardValues.value,
    settings: settings.value,
    target: options.target ?? null,
  });
}
