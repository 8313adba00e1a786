import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import { readConfig } from '../config.ts';
import { failure } from '../domain/index.ts';
import { BACKUP, backUpInstallation } from '../services/back-up-installation.ts';
import type { DataTools } from '../services/backup-ports.ts';
import { checkInstallation } from '../services/check-installation.ts';
import type { InstallationReport } from '../services/check-installation.ts';
import type { Witness } from '../services/check-witnesses.ts';
import { restoreInstallation } from '../services/restore-installation.ts';
import type { VerifyTools } from '../services/verify-bundle.ts';
import { EXIT, printFault, valueOrFault } from './command-result.ts';
import { writeJson } from './files.ts';
import { witnessBundles, witnessRow } from './witness-option.ts';

interface DataOption {
  readonly data?: string;
}

interface CheckOptions extends DataOption {
  readonly against?: readonly string[];
  readonly row?: readonly Witness[];
}

/** Loaded when asked for: no other command needs the database. */
const openTools = async (): Promise<DataTools> => (await import('../wiring-server.ts')).wireDataTools();

const DATA_OPTION = [
  '--data <folder>',
  'data folder of the installation; else BAREPLATE_DATA_DIR, else .bareplate here',
] as const;

/** `backup`, `restore` and `check`: what keeps an installation's evidence for years. */
export function addBackupCommands(program: Command, verifyTools: VerifyTools): void {
  program
    .command('backup')
    .description('write everything into one file, also while the server runs: ledger, photos, class maps, signing key')
    .requiredOption('--out <file.tar>', 'backup to write; keep it safe, it holds the private key')
    .option(...DATA_OPTION)
    .addHelpText('after', '\nExample: npx bareplate backup --out bareplate-2026-11-24.tar')
    .action(backUp);
  program
    .command('restore')
    .description('unpack a backup into an empty data folder, then check it')
    .requiredOption('--in <file.tar>', 'backup to read')
    .option(...DATA_OPTION)
    .addHelpText('after', '\nExample: npx bareplate restore --in bareplate-2026-11-24.tar --data ./restored')
    .action(restore);
  program
    .command('check')
    .description('check a data folder: every row, file, hash and seal; exit 0 only when all holds')
    .option(...DATA_OPTION)
    .option(
      '--against <bundle.zip...>',
      'bundles that were handed out: shows that an older data folder was put in the place of this one',
    )
    .option('--row <number:hash>', 'the same from paper: "Audit log at signing" of a report', witnessRow)
    .addHelpText(
      'after',
      '\nExamples: npx bareplate check --data .bareplate\n          npx bareplate check --against record.zip --row 21:dd0dbbfe44bae3e7',
    )
    .action((options: CheckOptions) => check(options, verifyTools));
}

const folderOf = ({ data }: DataOption): string =>
  readConfig({ ...process.env, ...(data === undefined ? {} : { BAREPLATE_DATA_DIR: data }) }).DATA_DIR;

/** A data folder with a ledger in it; says so when there is none. */
function dataFolderOf(options: DataOption): string | null {
  const folder = folderOf(options);
  if (existsSync(join(folder, BACKUP.ledger))) return folder;
  printFault({ code: 'file-not-found', role: 'ledger', path: join(folder, BACKUP.ledger) });
  return null;
}

async function backUp(options: DataOption & { out: string }): Promise<void> {
  const folder = dataFolderOf(options);
  if (folder === null) return;
  const tools = await openTools();
  const report = await backUpInstallation(tools.openFolder(folder), await tools.writeBackup(options.out), tools);
  await writeJson({ schema: 'bareplate/backup@1', file: options.out, ...report }, undefined);
  for (const name of report.missing) process.stderr.write(`${name} is missing in the data folder; run "check".\n`);
  for (const name of report.damaged) process.stderr.write(`${name} is damaged in the data folder; run "check".\n`);
  if (report.missing.length + report.damaged.length > 0) process.exitCode = EXIT.refused;
}

async function restore(options: DataOption & { in: string }): Promise<void> {
  if (!existsSync(options.in)) {
    printFault({ code: 'file-not-found', role: 'backup', path: options.in });
    return;
  }
  const folder = folderOf(options);
  const tools = await openTools();
  const fresh = await tools.freshFolder(folder);
  const restored =
    fresh === null
      ? failure({ code: 'folder-not-empty', path: folder })
      : await restoreInstallation(tools.readBackup(options.in), fresh, tools);
  const done = valueOrFault(restored);
  if (done === null) return;
  await tools.openFolder(folder).note('restored', { files: done.files });
  await printCheck(folder, tools);
}

async function check(options: CheckOptions, verifyTools: VerifyTools): Promise<void> {
  const folder = dataFolderOf(options);
  if (folder === null) return;
  const tools = await openTools();
  const fingerprint = await fingerprintOf(folder, tools);
  const bundles = valueOrFault(await witnessBundles(options.against ?? [], fingerprint, verifyTools));
  if (bundles !== null) await printCheck(folder, tools, [...bundles, ...(options.row ?? [])]);
}

async function printCheck(folder: string, tools: DataTools, witnesses: readonly Witness[] = []): Promise<void> {
  const report = await checkFolder(folder, tools, witnesses);
  await writeJson(report, undefined);
  const summary = report.holds ? 'All holds.' : `${report.problems.length} things do not hold:`;
  process.stderr.write(`${summary}\n`);
  for (const { where, message } of report.problems) process.stderr.write(`- ${where}: ${message}\n`);
  process.exitCode = report.holds ? EXIT.done : EXIT.refused;
}

async function fingerprintOf(folder: string, tools: DataTools): Promise<string | null> {
  const key = await tools.openFolder(folder).readSealKey();
  return key === null ? null : tools.fingerprintOf(key);
}

async function checkFolder(
  folder: string,
  tools: DataTools,
  witnesses: readonly Witness[],
): Promise<InstallationReport> {
  const ownFingerprint = await fingerprintOf(folder, tools);
  const rows = tools.openRows(folder);
  try {
    return await checkInstallation(rows, tools.openFolder(folder), { ...tools, ownFingerprint, witnesses });
  } finally {
    rows.close();
  }
}
