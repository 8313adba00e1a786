import { readFile, writeFile } from 'node:fs/promises';
import { failure, success } from '../domain/index.ts';
import type { Outcome } from '../domain/index.ts';

/** Reads a whole input file. @param role the caller's word for it, as the operator knows it */
export async function readInput(path: string, role: string): Promise<Outcome<Uint8Array>> {
  try {
    const bytes = await readFile(path);
    return bytes.length === 0 ? failure({ code: 'file-empty', role }) : success(bytes);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === 'ENOENT' || code === 'EISDIR' || code === 'ENOTDIR' || code === 'EACCES') {
      return failure({ code: 'file-not-found', role, path });
    }
    throw error;
  }
}

/** Writes JSON to a file, or to stdout for "-" and when no file is named. */
export async function writeJson(value: unknown, path: string | undefined): Promise<void> {
  const text = `${JSON.stringify(value, null, 2)}\n`;
  if (path === undefined || path === '-') process.stdout.write(text);
  else await writeFile(path, text);
}

/** Reads a whole text file, UTF-8. */
export async function readInputText(path: string, role: string): Promise<Outcome<string>> {
  const bytes = await readInput(path, role);
  return bytes.ok ? success(new TextDecoder().decode(bytes.value)) : bytes;
}
