import { readdir, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import type { AuditHead } from '../../domain/index.ts';
import { sealAuditHead } from '../../evidence/audit-head-seal.ts';
import type { SealKey } from '../../evidence/ports.ts';
import { HEAD_NAME } from '../../services/check-audit.ts';
import { writeSafely } from '../objects/write-safely.ts';

/** Heads that the log no longer held when a server started: never written over. */
const ANY_HEAD = /^audit-head(?:\.lost-\d+)?\.json$/;

/** Keeps the newest head of the audit log in a file beside the ledger. */
export interface AuditHeadFile {
  /** Done when this head or a later one is in the file. */
  keep(head: AuditHead): Promise<void>;
}

export function auditHeadFile(folder: string, key: SealKey): AuditHeadFile {
  let newest: AuditHead | null = null;
  let writtenUpTo = 0;
  let writing: Promise<void> = Promise.resolve();
  const write = async (sequence: number): Promise<void> => {
    if (newest === null || writtenUpTo >= sequence) return;
    const head = newest;
    await writeAuditHead(folder, key, head);
    writtenUpTo = head.sequence;
  };
  return {
    async keep(head) {
      if (newest === null || head.sequence > newest.sequence) newest = head;
      // One that failed has told its own caller; the next one tries anew.
      writing = writing.catch(() => undefined).then(() => write(head.sequence));
      await writing;
    },
  };
}

/** The file is the old head or the new one, never half of one; another process (a backup) may write it at the same time. */
export const writeAuditHead = (folder: string, key: SealKey, head: AuditHead): Promise<void> =>
  writeSafely(join(folder, HEAD_NAME), sealAuditHead(head, key));

/** Every head that is kept in a data folder, the present one and those that were lost to the log. */
export async function readAuditHeads(folder: string): Promise<{ readonly name: string; readonly text: string }[]> {
  const names = (await readdir(folder)).filter((name) => ANY_HEAD.test(name)).sort();
  return Promise.all(names.map(async (name) => ({ name, text: await readFile(join(folder, name), 'utf8') })));
}

/** Puts a head aside that the log does not hold, so that what is missing stays known. */
export const setHeadAside = (folder: string, sequence: number): Promise<void> =>
  rename(join(folder, HEAD_NAME), join(folder, `audit-head.lost-${sequence}.json`));
