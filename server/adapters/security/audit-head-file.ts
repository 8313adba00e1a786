import { open, readdir, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import type { AuditHead } from '../../domain/index.ts';
import { sealAuditHead } from '../../evidence/audit-head-seal.ts';
import type { SealKey } from '../../evidence/ports.ts';
import { HEAD_NAME } from '../../services/check-audit.ts';

/** Heads that the log no longer held when a server started: never written over. */
const ANY_HEAD = /^audit-head(?:\.lost-\d+)?\.json$/;
const OWNER_ONLY = 0o600;

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

/** Written aside, flushed and renamed: the file is the old head or the new one, never half of one. */
export async function writeAuditHead(folder: string, key: SealKey, head: AuditHead): Promise<void> {
  const [path, aside] = [join(folder, HEAD_NAME), join(folder, `${HEAD_NAME}.unfinished`)];
  const file = await open(aside, 'w', OWNER_ONLY);
  try {
    await file.writeFile(sealAuditHead(head, key));
    await file.sync();
  } finally {
    await file.close();
  }
  await rename(aside, path);
}

/** Every head that is kept in a data folder, the present one and those that were lost to the log. */
export async function readAuditHeads(folder: string): Promise<{ readonly name: string; readonly text: string }[]> {
  const names = (await readdir(folder)).filter((name) => ANY_HEAD.test(name)).sort();
  return Promise.all(names.map(async (name) => ({ name, text: await readFile(join(folder, name), 'utf8') })));
}

/** Puts a head aside that the log does not hold, so that what is missing stays known. */
export const setHeadAside = (folder: string, sequence: number): Promise<void> =>
  rename(join(folder, HEAD_NAME), join(folder, `audit-head.lost-${sequence}.json`));
