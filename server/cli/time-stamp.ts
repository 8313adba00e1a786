import { randomBytes } from 'node:crypto';
import { writeFile } from 'node:fs/promises';
import type { Command } from 'commander';
import type { TimeStamps } from '../services/evidence-ports.ts';
import { valueOrFault } from './command-result.ts';
import { readInput, writeJson } from './files.ts';

interface RequestOptions {
  readonly in: string;
  readonly out: string;
}

interface CheckOptions {
  readonly in: string;
  readonly reply: string;
  readonly roots?: string;
}

const NONCE_BYTES = 8;

export function addTimeStampCommand(program: Command, tools: { readonly timeStamps: TimeStamps }): void {
  const command = program
    .command('time-stamp')
    .description('time stamps of a public authority (RFC 3161) by files: nothing is sent from here');
  command
    .command('request')
    .description('write a request, to be sent to the authority as application/timestamp-query')
    .requiredOption('--in <file>', 'what is stamped: the record.sig of a bundle')
    .requiredOption('--out <file.tsq>', 'request to write')
    .addHelpText('after', '\nExample: npx bareplate time-stamp request --in record.sig --out record.tsq')
    .action(async (options: RequestOptions) => {
      const stamped = valueOrFault(await readInput(options.in, 'file to stamp'));
      if (stamped !== null) await writeFile(options.out, tools.timeStamps.request(stamped, randomBytes(NONCE_BYTES)));
    });
  command
    .command('check')
    .description('check a reply against the file that was stamped')
    .requiredOption('--in <file>', 'what was stamped')
    .requiredOption('--reply <file.tsr>', 'reply of the authority')
    .option('--roots <file.pem>', 'certificates of authorities that you trust')
    .addHelpText(
      'after',
      '\nExample: npx bareplate time-stamp check --in record.sig --reply record.tsr --roots authority.pem',
    )
    .action(async (options: CheckOptions) => {
      const stamped = valueOrFault(await readInput(options.in, 'stamped file'));
      const reply = stamped === null ? null : valueOrFault(await readInput(options.reply, 'reply'));
      if (stamped === null || reply === null) return;
      const roots =
        options.roots === undefined ? new Uint8Array() : valueOrFault(await readInput(options.roots, 'certificates'));
      if (roots === null) return;
      const stamp = valueOrFault(tools.timeStamps.check(reply, stamped, Buffer.from(roots).toString('utf8')));
      if (stamp !== null) await writeJson(stamp, undefined);
    });
}
