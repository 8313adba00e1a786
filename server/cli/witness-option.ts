import { InvalidArgumentError } from 'commander';
import { success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';
import { bundleWitness } from '../services/check-witnesses.ts';
import type { Witness } from '../services/check-witnesses.ts';
import { verifyBundle } from '../services/verify-bundle.ts';
import type { VerifyTools } from '../services/verify-bundle.ts';
import { readInput } from './files.ts';

/** So much of a hash is typed from paper at least; nobody finds another row that begins so. */
const LEAST_DIGITS = 16;

/** A row of the log as a report prints it: its number, and its hash or the beginning of it. */
export function witnessRow(text: string, earlier: readonly Witness[] = []): Witness[] {
  const plain = text.replace(/\s/g, '').toLowerCase();
  const [number, hashStart = ''] = plain.split(':');
  if (!/^\d{1,9}:[0-9a-f]{1,64}$/.test(plain) || hashStart.length < LEAST_DIGITS) {
    throw new InvalidArgumentError(`expected ROW:HASH, with ${LEAST_DIGITS} digits of the hash or more`);
  }
  const row = { sequence: Number(number), hashStart };
  return [...earlier, { name: `row ${number} as given`, row, record: null, flaw: null }];
}

/** Bundles that were handed out. @param knownFingerprint of the key of the data folder: a bundle of another shop tells nothing */
export async function witnessBundles(
  paths: readonly string[],
  knownFingerprint: string | null,
  tools: VerifyTools,
): Promise<Outcome<Witness[]>> {
  const witnesses: Witness[] = [];
  for (const path of paths) {
    const bundle = await readInput(path, 'bundle');
    if (!bundle.ok) return bundle;
    const finding = verifyBundle({ bundle: bundle.value, knownFingerprint, timeStampRoots: '' }, tools);
    witnesses.push(bundleWitness(path, finding));
  }
  return success(witnesses);
}
