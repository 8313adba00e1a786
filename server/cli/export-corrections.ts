import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import { readConfig } from '../config.ts';
import { BACKUP } from '../services/back-up-installation.ts';
import { exportCorrections } from '../services/export-corrections.ts';
import { printFault } from './command-result.ts';
import { writeJson } from './files.ts';

interface ExportOptions {
  readonly data?: string;
  readonly out: string;
}

/** `export-corrections`: what people corrected and agreed to hand out, as training data for the segmenter. */
export function addExportCorrectionsCommand(program: Command): void {
  program
    .command('export-corrections')
    .description('write photo crops with their corrected class masks, of corrections with consent to train alone')
    .requiredOption('--out <folder>', 'empty or new folder for the pictures and manifest.json')
    .option('--data <folder>', 'data folder of the installation; else BAREPLATE_DATA_DIR, else .bareplate here')
    .addHelpText('after', '\nExample: npx bareplate export-corrections --out teasel-corrections')
    .action(write);
}

async function write({ data, out }: ExportOptions): Promise<void> {
  const environment = { ...process.env, ...(data === undefined ? {} : { BAREPLATE_DATA_DIR: data }) };
  const folder = readConfig(environment).DATA_DIR;
  const ledger = join(folder, BACKUP.ledger);
  if (!existsSync(ledger)) {
    printFault({ code: 'file-not-found', role: 'ledger', path: ledger });
    return;
  }
  // Loaded when asked for: no other command needs the database.
  const { wireDataTools, wireTrainingTools } = await import('../wiring-server.ts');
  const [tools, training] = [wireDataTools(), wireTrainingTools()];
  const fresh = await tools.freshFolder(out);
  if (fresh === null) {
    printFault({ code: 'folder-not-empty', path: out });
    return;
  }
  const report = await exportCorrections(training.listCorrected(ledger), tools.openFolder(folder), fresh, training);
  const { items, withoutConsent, unreadable } = report;
  await writeJson(
    { schema: 'bareplate/exported-corrections@1', folder: out, pictures: items.length, withoutConsent, unreadable },
    undefined,
  );
  process.stderr.write(
    `${items.length} corrected pictures written; ${withoutConsent} left out for want of consent, ${unreadable} not readable.\n`,
  );
}
