import { vi } from 'vitest';
import { runProgram } from '../../server/cli/program.ts';

export interface CommandRun {
  readonly exitCode: number;
  readonly stdout: string;
  readonly stderr: string;
}

const exitCodeOf = ({ exitCode }: { exitCode?: unknown }): number => (typeof exitCode === 'number' ? exitCode : 0);

/** Runs the command line inside this process, with everything it prints caught. */
export async function runCommand(...words: readonly string[]): Promise<CommandRun> {
  const printed = { stdout: '', stderr: '' };
  const spies = (['stdout', 'stderr'] as const).map((name) =>
    vi.spyOn(process[name], 'write').mockImplementation((text) => {
      printed[name] += typeof text === 'string' ? text : Buffer.from(text).toString('utf8');
      return true;
    }),
  );
  process.exitCode = undefined;
  try {
    await runProgram(['node', 'bareplate', ...words]);
    return { exitCode: exitCodeOf(process), ...printed };
  } finally {
    process.exitCode = undefined;
    for (const spy of spies) spy.mockRestore();
  }
}
