import type { Command } from 'commander';
import { historySchema } from '../domain/index.ts';
import { adviseNextRound } from '../process/advice/advise-next-round.ts';
import { valueOrFault } from './command-result.ts';
import { writeJson } from './files.ts';
import { readJsonInput } from './json-input.ts';

interface AdviseOptions {
  readonly in: string;
  readonly out?: string;
}

export function addAdviseCommand(program: Command): void {
  program
    .command('advise')
    .description('advise the next setting from the rounds a zone has had, oldest first')
    .requiredOption('--in <file>', 'history: machine, target and rounds, JSON')
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText('after', EXAMPLE)
    .action(async (options: AdviseOptions) => {
      const history = valueOrFault(await readJsonInput(options.in, 'history file', historySchema, 'history-malformed'));
      if (history === null) return;
      const advice = valueOrFault(adviseNextRound(history));
      if (advice !== null) await writeJson(advice, options.out);
    });
}

const EXAMPLE = `
Example: npx bareplate advise --in teasel-stern-plate.json
with teasel-stern-plate.json, a zone after one round and a small patch tried on what that left:
{ "surface": "heavy pitted rust", "thicknessMm": 8, "areaM2": 4, "target": { "residueFractionMax": 0.02 },
  "rounds": [
    { "settings": { "powerW": 2000, "scanWidthMm": 300, "scanFrequencyHz": 20, "travelSpeedMmPerS": 10, "passes": 1 },
      "before": { "residueFraction": 0.92 }, "after": { "residueFraction": 0.31, "low": 0.27, "high": 0.35 },
      "scrapeTest": "material came off", "heatTint": false } ],
  "testPatches": [
    { "afterRounds": 1,
      "settings": { "powerW": 2000, "scanWidthMm": 150, "scanFrequencyHz": 20, "travelSpeedMmPerS": 10, "passes": 1 },
      "before": { "residueFraction": 0.31 }, "after": { "residueFraction": 0.04, "low": 0.02, "high": 0.06 } } ],
  "machine": { "powerW": { "min": 300, "max": 2000 }, "scanWidthMm": { "min": 20, "max": 300 },
    "scanFrequencyHz": { "min": 10, "max": 200 }, "travelSpeedMmPerS": { "min": 2, "max": 60 },
    "strokesPerCycle": 2, "spotDiameterMm": 0.6, "maxPasses": 10 } }
"rounds" may be empty; "after" may hold "worstSquare", the same three of the worst 76 mm square, for which the target then holds;
"earlierZones": [ { "surface", "rounds" } ] are zones that this machine has treated before.`;
