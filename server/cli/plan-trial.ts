import { writeFile } from 'node:fs/promises';
import { Option } from 'commander';
import type { Command } from 'commander';
import { trialRequestSchema } from '../domain/index.ts';
import { planTrial } from '../process/trial/plan-trial.ts';
import type { PaperSize, TrialPrinter } from '../services/ports.ts';
import { valueOrFault } from './command-result.ts';
import { writeJson } from './files.ts';
import { readJsonInput } from './json-input.ts';

interface PlanTrialOptions {
  readonly in: string;
  readonly sheet?: string;
  readonly paper: PaperSize;
  readonly out?: string;
}

export function addPlanTrialCommand(program: Command, tools: { readonly trialPrinter: TrialPrinter }): void {
  program
    .command('plan-trial')
    .description('plan a coupon of patches whose outcomes tell most about a surface, with a sheet to print')
    .requiredOption('--in <file>', 'machine, target, coupon and what is known of the surface, JSON')
    .option('--sheet <file.pdf>', 'sheet to print and take along')
    .addOption(new Option('--paper <size>', 'sheet').choices(['a4', 'letter']).default('a4'))
    .option('--out <file>', 'file for the plan, JSON; "-" is stdout', '-')
    .addHelpText('after', EXAMPLE)
    .action(async (options: PlanTrialOptions) => {
      const request = valueOrFault(
        await readJsonInput(options.in, 'trial file', trialRequestSchema, 'trial-malformed'),
      );
      if (request === null) return;
      const plan = valueOrFault(planTrial(request));
      if (plan === null) return;
      if (options.sheet !== undefined) {
        await writeFile(options.sheet, await tools.trialPrinter.sheet(plan, options.paper));
      }
      await writeJson(plan, options.out);
    });
}

const EXAMPLE = `
Example: npx bareplate plan-trial --in teasel-stern-coupon.json --sheet sheet.pdf --out plan.json
with teasel-stern-coupon.json:
{ "name": "Teasel stern plate", "surface": "heavy pitted rust", "thicknessMm": 8, "target": { "residueFractionMax": 0.05 },
  "coupon": { "widthMm": 300, "heightMm": 200 }, "patches": 8,
  "machine": { "powerW": { "min": 300, "max": 2000 }, "scanWidthMm": { "min": 20, "max": 300 },
    "scanFrequencyHz": { "min": 10, "max": 200 }, "travelSpeedMmPerS": { "min": 2, "max": 60 },
    "strokesPerCycle": 2, "spotDiameterMm": 0.6, "maxPasses": 10 } }`;
