#!/usr/bin/env node
/** Entry of the command line: lets Node read TypeScript, then runs the program. */
import { register } from 'tsx/esm/api';

register();
const { leaveClosedPipes } = await import('./leave-closed-pipes.ts');
leaveClosedPipes();
const { runProgram } = await import('./program.ts');
await runProgram(process.argv);
