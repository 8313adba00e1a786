import type { Command } from 'commander';
import { studyGauge } from '../evidence/gauge/study-gauge.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, writeJson } from './files.ts';

interface GaugeOptions {
  readonly in: string;
  readonly out?: string;
}

export function addGaugeCommand(program: Command): void {
  program
    .command('gauge')
    .description(
      'how much of the spread of a measurement comes from the measuring: operators x zones x repeats, by analysis of variance',
    )
    .requiredOption(
      '--in <file.json>',
      'study: {"schema": "bareplate/gauge-study@1", "quantity", "toleranceWidth", "measurements"}',
    )
    .option('--out <file>', 'result to write; "-" or none is the screen')
    .addHelpText(
      'after',
      '\nExample: npx bareplate gauge --in teasel-gauge.json\nEach measurement is {"operator": "Finch", "zone": "anchor locker 1", "value": 0.042}; every operator measures every zone equally often.',
    )
    .action(async (options: GaugeOptions) => {
      const file = valueOrFault(await readInput(options.in, 'gauge study'));
      if (file === null) return;
      const result = valueOrFault(studyGauge(parseJson(file)));
      if (result !== null) await writeJson(result, options.out);
    });
}

function parseJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return undefined;
  }
}
