import { writeFile } from 'node:fs/promises';
import { Option } from 'commander';
import type { Command } from 'commander';
import { reprintReport } from '../services/reprint-report.ts';
import type { ReprintTools } from '../services/reprint-report.ts';
import { valueOrFault } from './command-result.ts';
import { readInput } from './files.ts';

interface ReportOptions {
  readonly bundle: string;
  readonly paper: 'a4' | 'letter';
  readonly units: 'metric' | 'inch';
  readonly out: string;
}

export function addReportCommand(program: Command, tools: ReprintTools): void {
  program
    .command('report')
    .description('print the report of an evidence bundle again, on another paper or in other units')
    .requiredOption('--bundle <file.zip>', 'bundle that holds: check it with "verify" first')
    .addOption(new Option('--paper <size>', 'sheet').choices(['a4', 'letter']).default('a4'))
    .addOption(
      new Option('--units <system>', 'units of lengths, speeds and temperatures')
        .choices(['metric', 'inch'])
        .default('metric'),
    )
    .requiredOption('--out <file.pdf>', 'report to write')
    .addHelpText(
      'after',
      '\nExample: npx bareplate report --bundle teasel-stern-plate.zip --paper letter --units inch --out stern-plate.pdf',
    )
    .action(async (options: ReportOptions) => {
      const bundle = valueOrFault(await readInput(options.bundle, 'bundle'));
      if (bundle === null) return;
      const look = { paper: options.paper, units: options.units, recordAddress: null };
      const report = valueOrFault(await reprintReport({ bundle, look }, tools));
      if (report !== null) await writeFile(options.out, report);
    });
}
