import type { Command } from 'commander';
import { quoteRequestSchema } from '../domain/index.ts';
import { quoteJob } from '../process/quote/quote-job.ts';
import { valueOrFault } from './command-result.ts';
import { writeJson } from './files.ts';
import { readJsonInput } from './json-input.ts';

interface QuoteOptions {
  readonly in: string;
  readonly out?: string;
}

export function addQuoteCommand(program: Command): void {
  program
    .command('quote')
    .description('hours and cost of an area, with a range, before anything has been measured')
    .requiredOption('--in <file>', 'areaM2, machine, target, hourlyRate and what else is known, JSON')
    .option('--out <file>', 'file for the JSON; "-" is stdout', '-')
    .addHelpText('after', EXAMPLE)
    .action(async (options: QuoteOptions) => {
      const request = valueOrFault(
        await readJsonInput(options.in, 'quote file', quoteRequestSchema, 'quote-malformed'),
      );
      if (request === null) return;
      const quote = valueOrFault(quoteJob(request));
      if (quote !== null) await writeJson(quote, options.out);
    });
}

const EXAMPLE = `
Example: npx bareplate quote --in teasel-deck-frames.json
with teasel-deck-frames.json:
{ "areaM2": 12, "surface": "heavy pitted rust", "target": { "residueFractionMax": 0.05 }, "hourlyRate": 85, "currency": "EUR",
  "machine": { "powerW": { "min": 300, "max": 2000 }, "scanWidthMm": { "min": 20, "max": 300 },
    "scanFrequencyHz": { "min": 10, "max": 200 }, "travelSpeedMmPerS": { "min": 2, "max": 60 },
    "strokesPerCycle": 2, "spotDiameterMm": 0.6, "maxPasses": 10 },
  "earlierZones": [
    { "surface": "heavy pitted rust", "areaM2": 1.5, "workMinutes": 40, "rounds": [
      { "settings": { "powerW": 2000, "scanWidthMm": 300, "scanFrequencyHz": 20, "travelSpeedMmPerS": 6, "passes": 1 },
        "before": { "residueFraction": 0.9 }, "after": { "residueFraction": 0.03 } } ] } ] }
Earlier zones narrow the range; their area and working time tell how much of it the beam is on.`;
