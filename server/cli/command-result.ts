import type { Fault, Outcome } from '../domain/index.ts';
import { faultSentence } from '../domain/index.ts';

/** 0 done; 1 anything unforeseen; 2 wrong usage; 3 an input was refused. */
export const EXIT = { done: 0, failed: 1, usage: 2, refused: 3 } as const;

/** Prints a refused input: the fault as JSON on stdout, its sentence on stderr. */
export function printFault(fault: Fault): void {
  const { code, ...numbers } = fault;
  process.stdout.write(`${JSON.stringify({ fault: { code, ...numbers, sentence: faultSentence(fault) } }, null, 2)}\n`);
  process.stderr.write(`${faultSentence(fault)}\n`);
  process.exitCode = EXIT.refused;
}

/** Hands on the value of an outcome, or prints its fault and answers null. */
export function valueOrFault<T>(outcome: Outcome<T>): T | null {
  if (outcome.ok) return outcome.value;
  printFault(outcome.fault);
  return null;
}
