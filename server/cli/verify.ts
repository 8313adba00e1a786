import type { Command } from 'commander';
import type { Verification } from '../domain/index.ts';
import { verifyBundle } from '../services/verify-bundle.ts';
import type { VerifyTools } from '../services/verify-bundle.ts';
import { EXIT, valueOrFault } from './command-result.ts';
import { readInput, writeJson } from './files.ts';

interface VerifyOptions {
  readonly key?: string;
  readonly timeStampRoots?: string;
}

export function addVerifyCommand(program: Command, tools: VerifyTools): void {
  program
    .command('verify')
    .description('check an evidence bundle without any network: every hash, both signatures, every byte of the archive')
    .argument('<file>', 'bundle (zip)')
    .option('--key <fingerprint>', 'fingerprint of the shop’s key, as the shop gave it by another way')
    .option('--time-stamp-roots <file.pem>', 'certificates of time-stamping authorities that you trust')
    .addHelpText(
      'after',
      '\nExample: npx bareplate verify teasel-stern-plate.zip --key "06e3 fd8f da29 bb60 ab59 557d e61e db0a"',
    )
    .action(async (path: string, options: VerifyOptions) => {
      const bundle = valueOrFault(await readInput(path, 'bundle'));
      if (bundle === null) return;
      const roots = await readRoots(options.timeStampRoots);
      if (roots === null) return;
      const finding = verifyBundle({ bundle, knownFingerprint: options.key ?? null, timeStampRoots: roots }, tools);
      await writeJson(finding, undefined);
      for (const sentence of sentencesOf(finding)) process.stderr.write(`${sentence}\n`);
      process.exitCode = finding.holds ? EXIT.done : EXIT.refused;
    });
}

async function readRoots(path: string | undefined): Promise<string | null> {
  if (path === undefined) return '';
  const bytes = valueOrFault(await readInput(path, 'certificate file'));
  return bytes === null ? null : Buffer.from(bytes).toString('utf8');
}

function sentencesOf({ holds, problems, record, remarks }: Verification): string[] {
  const named =
    record === null ? 'The bundle' : `${record.id} (${record.verdict} by ${record.signerName}, ${record.signedAt})`;
  const summary = holds ? `${named} holds: nothing was changed.` : `${named} does not hold:`;
  return [summary, ...problems.map(({ path, message }) => `- ${path}: ${message}`), ...remarks];
}
