import { Command, CommanderError } from 'commander';
import { wireTools } from '../wiring.ts';
import { addAdviseCommand } from './advise.ts';
import { addAssessCommand } from './assess.ts';
import { addBackupCommands } from './backup.ts';
import { addCardCommand } from './card.ts';
import { EXIT } from './command-result.ts';
import { addCompareCommand } from './compare.ts';
import { addDemoCommand } from './demo.ts';
import { addDosePictureCommand } from './dose-picture.ts';
import { addExportCorrectionsCommand } from './export-corrections.ts';
import { addGaugeCommand } from './gauge.ts';
import { addPlanTrialCommand } from './plan-trial.ts';
import { addQuoteCommand } from './quote.ts';
import { addReadTrialCommand } from './read-trial.ts';
import { addReportCommand } from './report.ts';
import { addSegmentCommand } from './segment.ts';
import { addServeCommand } from './serve.ts';
import { addTimeStampCommand } from './time-stamp.ts';
import { addVerifyCommand } from './verify.ts';

/** The command line of a checkout: `npx bareplate <command>`. */
export async function runProgram(argv: readonly string[]): Promise<void> {
  const program = new Command('bareplate')
    .description('Measures rust, scale and stain left on steel from phone photos, and advises the next laser setting.')
    .addHelpText('after', SAFETY)
    .showHelpAfterError('(add --help for the options)')
    .exitOverride();
  const tools = wireTools();
  addAssessCommand(program, tools);
  addCompareCommand(program, tools);
  addSegmentCommand(program, tools);
  addAdviseCommand(program);
  addPlanTrialCommand(program, tools);
  addReadTrialCommand(program, tools);
  addDosePictureCommand(program, tools);
  addQuoteCommand(program);
  addCardCommand(program, tools);
  addVerifyCommand(program, tools);
  addReportCommand(program, tools);
  addTimeStampCommand(program, tools);
  addGaugeCommand(program, tools);
  addBackupCommands(program, tools);
  addExportCorrectionsCommand(program);
  addServeCommand(program);
  addDemoCommand(program, tools);
  try {
    await program.parseAsync([...argv]);
  } catch (error) {
    if (error instanceof CommanderError) process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.usage;
    else {
      process.stderr.write(
        `Something failed that should not: ${error instanceof Error ? error.message : String(error)}\n`,
      );
      process.exitCode = EXIT.failed;
    }
  }
}

const SAFETY = `
A hand-held cleaning laser is class 4: direct and scattered light blinds and burns, fume from rust and paint is harmful,
and the work is hot work. Follow local codes and your laser safety officer. This program supports an inspector; it
certifies nothing.`;
