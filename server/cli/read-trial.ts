import type { Command } from 'commander';
import { InvalidArgumentError } from 'commander';
import { z } from 'zod';
import { patchReadingSchema, success, trialPlanSchema } from '../domain/index.ts';
import type { Outcome, TrialPlan, TrialResult } from '../domain/index.ts';
import { readTrial } from '../process/trial/read-trial.ts';
import { readTrialPhoto } from '../services/read-trial-photo.ts';
import type { SegmenterName, Tools } from '../wiring.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, readInputText, writeJson } from './files.ts';
import { readJsonInput } from './json-input.ts';
import { segmenterOption, withSegmenter } from './segmenter-option.ts';

interface ReadTrialOptions {
  readonly plan: string;
  readonly photo?: string;
  readonly readings?: string;
  readonly origin?: readonly [number, number];
  readonly cardValues?: string;
  readonly segmenter: SegmenterName;
  readonly out?: string;
}

export function addReadTrialCommand(program: Command, tools: Tools): void {
  program
    .command('read-trial')
    .description('read a cleaned coupon patch by patch, fit the surface and name the quickest setting that does')
    .requiredOption('--plan <file>', 'plan of the trial, JSON')
    .option('--photo <file>', 'photo of the cleaned coupon with the card laid as the sheet shows')
    .option('--readings <file>', 'residues that are known already, instead of a photo: [{ name, residue }], JSON')
    .option('--origin <x,y>', "the coupon's top left corner in the card frame, mm, where it lay otherwise", readOrigin)
    .option('--card-values <file>', "the card's measured patches, CGATS.17 text")
    .addOption(segmenterOption())
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText('after', EXAMPLE)
    .action(async (options: ReadTrialOptions, command: Command) => {
      if ((options.photo === undefined) === (options.readings === undefined)) {
        command.error('error: give either --photo or --readings');
      }
      const plan = valueOrFault(await readJsonInput(options.plan, 'plan', trialPlanSchema, 'trial-malformed'));
      if (plan === null) return;
      const result = valueOrFault(await resultOf(plan, options, tools));
      if (result !== null) await writeJson(result, options.out);
    });
}

async function resultOf(plan: TrialPlan, options: ReadTrialOptions, tools: Tools): Promise<Outcome<TrialResult>> {
  if (options.readings !== undefined) {
    const readings = await readJsonInput(options.readings, 'readings', z.array(patchReadingSchema), 'trial-malformed');
    return readings.ok ? readTrial(plan, readings.value) : readings;
  }
  const photo = await readInput(options.photo ?? '', 'photo');
  if (!photo.ok) return photo;
  const cardValues =
    options.cardValues === undefined ? success(null) : await readInputText(options.cardValues, 'card values');
  if (!cardValues.ok) return cardValues;
  return readTrialPhoto(
    { plan, photo: photo.value, couponAtMm: options.origin ?? null, cardValues: cardValues.value },
    withSegmenter(tools, options.segmenter),
  );
}

function readOrigin(text: string): readonly [number, number] {
  const numbers = text.split(',').map(Number);
  const [x, y] = numbers;
  if (numbers.length !== 2 || !numbers.every(Number.isFinite)) {
    throw new InvalidArgumentError('expected two numbers, as in 0,113.6');
  }
  return [x, y];
}

const EXAMPLE = `
Example: npx bareplate read-trial --plan plan.json --photo teasel-coupon.jpg
or, where the residues are known: npx bareplate read-trial --plan plan.json --readings teasel-readings.json
with teasel-readings.json, every patch of the plan by its name:
[ { "name": "A1", "residue": { "value": 0.42, "low": 0.36, "high": 0.48, "coverage": 0.95 } },
  { "name": "A2", "residue": { "value": 0.03, "low": 0.01, "high": 0.05, "coverage": 0.95 } } ]`;
