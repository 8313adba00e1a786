import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { comparePatchesOfPhoto } from '../services/compare-patches-of-photo.ts';
import type { ComparisonRequest, PatchAsked } from '../services/compare-patches-of-photo.ts';
import type { SegmenterName, Tools } from '../wiring.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, readInputText, writeJson } from './files.ts';
import { segmenterOption, withSegmenter } from './segmenter-option.ts';
import { readSettings } from './settings-option.ts';
import { ZONE_HELP, readZone } from './zone-option.ts';

type Named = ReadonlyMap<string, string>;

interface CompareOptions {
  readonly photo: string;
  readonly zone: Named;
  readonly settings?: Named;
  readonly cardValues?: string;
  readonly out?: string;
  readonly segmenter: SegmenterName;
}

export function addCompareCommand(program: Command, tools: Tools): void {
  program
    .command('compare')
    .description('measure several patches of one photo side by side and say which differences are real')
    .requiredOption('--photo <file>', 'photo that shows all patches')
    .requiredOption('--zone <name=spec>', `a patch, given once for each: ${ZONE_HELP}`, readNamed)
    .option('--settings <name=file>', 'settings of a patch, given once for each', readNamed)
    .option('--card-values <file>', "the card's measured patches, CGATS.17 text")
    .addOption(segmenterOption())
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText(
      'after',
      '\nExample: npx bareplate compare --photo coupon.jpg --zone A=mm:0,120,60,180 --zone B=mm:70,120,130,180 --settings A=a.json',
    )
    .action(async (options: CompareOptions, command: Command) => {
      const stray = [...(options.settings?.keys() ?? [])].find((name) => !options.zone.has(name));
      if (stray !== undefined) command.error(`error: settings are given for "${stray}", but no zone has that name`);
      const request = valueOrFault(await readRequest(options));
      if (request === null) return;
      const comparison = valueOrFault(await comparePatchesOfPhoto(request, withSegmenter(tools, options.segmenter)));
      if (comparison !== null) await writeJson(comparison, options.out);
    });
}

function readNamed(text: string, earlier: Named | undefined): Named {
  const at = text.indexOf('=');
  const name = text.slice(0, at);
  if (at < 1 || at === text.length - 1) throw new InvalidArgumentError('expected NAME=VALUE');
  if (earlier?.has(name) === true) throw new InvalidArgumentError(`"${name}" is given twice`);
  return new Map([...(earlier ?? []), [name, text.slice(at + 1)]]);
}

async function readRequest(options: CompareOptions): Promise<Outcome<ComparisonRequest>> {
  const photo = await readInput(options.photo, 'photo');
  if (!photo.ok) return photo;
  const cardValues =
    options.cardValues === undefined ? success(null) : await readInputText(options.cardValues, 'card values');
  if (!cardValues.ok) return cardValues;
  const patches: PatchAsked[] = [];
  for (const [name, spec] of options.zone) {
    const zone = await readZone(spec);
    if (!zone.ok) return zone;
    const settings = await readSettings(options.settings?.get(name));
    if (!settings.ok) return settings;
    if (zone.value !== null) patches.push({ name, zone: zone.value, settings: settings.value });
  }
  return success({ photo: photo.value, patches, cardValues: cardValues.value });
}
