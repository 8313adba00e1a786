import { writeFile } from 'node:fs/promises';
import { Option } from 'commander';
import type { Command } from 'commander';
import { doseRequestSchema } from '../domain/index.ts';
import { dosePicture } from '../domain/dose/dose-picture.ts';
import type { DosePainter } from '../services/ports.ts';
import { valueOrFault } from './command-result.ts';
import { writeJson } from './files.ts';
import { readJsonInput } from './json-input.ts';

interface DosePictureOptions {
  readonly in: string;
  readonly show: 'residue' | 'energy';
  readonly png?: string;
  readonly out?: string;
}

export function addDosePictureCommand(program: Command, tools: { readonly dosePainter: DosePainter }): void {
  program
    .command('dose-picture')
    .description('what settings and a walk lay on the metal and should leave there, in millimetres')
    .requiredOption('--in <file>', 'settings, machine and what else is known of hand, spot and surface, JSON')
    .option('--png <file.png>', 'picture to write')
    .addOption(new Option('--show <what>', 'what the picture shows').choices(['residue', 'energy']).default('residue'))
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText('after', EXAMPLE)
    .action(async (options: DosePictureOptions) => {
      const request = valueOrFault(
        await readJsonInput(options.in, 'dose file', doseRequestSchema, 'settings-malformed'),
      );
      if (request === null) return;
      const picture = valueOrFault(dosePicture(request));
      if (picture === null) return;
      if (options.png !== undefined) await writeFile(options.png, await tools.dosePainter.png(picture, options.show));
      await writeJson(picture, options.out);
    });
}

const EXAMPLE = `
Example: npx bareplate dose-picture --in teasel-rudder-stock.json --png stripes.png --out dose.json
with teasel-rudder-stock.json, a hand that quickens in the middle of the walk:
{ "settings": { "powerW": 1500, "scanWidthMm": 150, "scanFrequencyHz": 25, "travelSpeedMmPerS": 15, "passes": 1 },
  "surface": "light rust", "lengthMm": 40,
  "speedTrace": [ { "alongMm": 0, "travelSpeedMmPerS": 14 }, { "alongMm": 20, "travelSpeedMmPerS": 32 } ],
  "machine": { "powerW": { "min": 300, "max": 2000 }, "scanWidthMm": { "min": 20, "max": 300 },
    "scanFrequencyHz": { "min": 10, "max": 200 }, "travelSpeedMmPerS": { "min": 2, "max": 60 },
    "strokesPerCycle": 2, "spotDiameterMm": 0.6, "maxPasses": 10 } }`;
