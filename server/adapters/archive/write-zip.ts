import { layOutZip } from './zip-layout.ts';
import type { ArchiveEntry } from '../../services/evidence-ports.ts';

/** The same files in the same order give the same bytes, on any machine and at any time. */
export const writeZip = (entries: readonly ArchiveEntry[]): Uint8Array =>
  Buffer.concat(layOutZip(entries).map((part) => part.bytes));
