import type { Command } from 'commander';
import { failure, historySchema, success } from '../domain/index.ts';
import type { History, Outcome } from '../domain/index.ts';
import { adviseNextRound } from '../process/advice/advise-next-round.ts';
import { valueOrFault } from './command-result.ts';
import { readInputText, writeJson } from './files.ts';

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
      const history = valueOrFault(await readHistory(options.in));
      if (history === null) return;
      const advice = valueOrFault(adviseNextRound(history));
      if (advice !== null) await writeJson(advice, options.out);
    });
}

async function readHistory(path: string): Promise<Outcome<History>> {
  const text = await readInputText(path, 'history file');
  if (!text.ok) return text;
  let json: unknown;
  try {
    json = JSON.parse(text.value);
  } catch (error) {
    return failure({ code: 'history-malformed', path: '', detail: `it is not JSON (${(error as Error).message})` });
  }
  const parsed = historySchema.safeParse(json);
  if (parsed.success) return success(parsed.data);
  const [issue] = parsed.error.issues;
  return failure({ code: 'history-malformed', path: issue.path.join('.'), detail: detailOf(issue, json) });
}

/** What is wrong, with the value that came where it is short enough to show. */
function detailOf({ path, message }: { path: readonly PropertyKey[]; message: string }, json: unknown): string {
  const value = path.reduce<unknown>((at, key) => (at as Record<PropertyKey, unknown> | null | undefined)?.[key], json);
  if (value === undefined) return 'is missing';
  return typeof value === 'object' && value !== null
    ? `does not fit: ${message}`
    : `is ${JSON.stringify(value)}: ${message}`;
}
