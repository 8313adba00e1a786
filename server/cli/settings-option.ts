import { failure, readSettingsFile, success } from '../domain/index.ts';
import type { Outcome, SettingsFile } from '../domain/index.ts';
import { readInputText } from './files.ts';

/** Reads a settings file; none named is none given. */
export async function readSettings(path: string | undefined): Promise<Outcome<SettingsFile | null>> {
  if (path === undefined) return success(null);
  const text = await readInputText(path, 'settings file');
  if (!text.ok) return text;
  try {
    return readSettingsFile(JSON.parse(text.value));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    return failure({ code: 'settings-malformed', path: '', detail: `they are not JSON (${error.message})` });
  }
}
