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
    .addHelpText('after', '\nExample: npx bareplate advise --in teasel-stern-plate.json')
    .action(async (options: AdviseOptions) => {
      const history = valueOrFault(await readJsonInput(options.in, 'history file', historySchema, 'history-malformed'));
      if (history === null) return;
      const advice = valueOrFault(adviseNextRound(history));
      if (advice !== null) await writeJson(advice, options.out);
    });
}
