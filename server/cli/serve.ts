import type { Command } from 'commander';

export function addServeCommand(program: Command): void {
  program
    .command('serve')
    .description('start the server and web application; settings come from BAREPLATE_ variables, none are needed')
    // Loaded when asked for: no other command needs the web server and the database.
    .action(async () => (await import('../main.ts')).runServer());
}
