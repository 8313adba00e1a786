import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import SqliteFile from 'better-sqlite3';

export interface DataFolderSeal {
  release(): void;
}

/**
 * Keeps a data folder to one process. The seal is a lock of the operating system on a file in it, so it goes with the
 * process however that ends; nothing stale is ever left. Null when another process has it.
 */
export async function sealDataFolder(folder: string): Promise<DataFolderSeal | null> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  await writeFile(join(folder, '.gitignore'), '*\n');
  const file = new SqliteFile(join(folder, 'in-use.db'), { timeout: 0 });
  try {
    file.pragma('journal_mode = DELETE');
    file.exec('begin exclusive');
  } catch (error) {
    file.close();
    if ((error as { code?: string }).code?.startsWith('SQLITE_BUSY') === true) return null;
    throw error;
  }
  return { release: () => void file.close() };
}
