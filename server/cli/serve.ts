import type { Command } from 'commander';
import { runServer } from '../main.ts';

export function addServeCommand(program: Command): void {
  program
    .command('serve')
    .description('start the server and web application; settings come from BAREPLATE_ variables, none are needed')
    .action(runServer);
}
