import { z } from 'zod';
import { failure, success } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { machineSchema } from './machine.ts';
import { settingsSchema } from './settings.ts';
import { positiveMillimetres } from './units.ts';

const context = {
  /** The machine the settings belong to; without it the strokes per cycle and the limits are assumed. */
  machine: machineSchema.optional(),
  /** Surface kind in words, e.g. "heavy pitted rust". */
  surface: z.string().min(1).optional(),
  thicknessMm: positiveMillimetres.optional(),
};

/** Settings as kept in a file: bare, or beside what is known of machine and surface. */
const fileSchema = z.object({ settings: settingsSchema, ...context });
export type SettingsFile = z.infer<typeof fileSchema>;

const NAMES = Object.keys(settingsSchema.shape);

/** Checks a parsed settings file. A dial without its unit in the key is named as such. */
export function readSettingsFile(json: unknown): Outcome<SettingsFile> {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    return failure({ code: 'settings-malformed', path: '', detail: 'they are not a JSON object' });
  }
  const isNested = 'settings' in json;
  const { settings, rest } = isNested ? { settings: json.settings, rest: json } : splitBare(json);
  const parsed = fileSchema.safeParse({ ...rest, settings });
  if (parsed.success) return success(parsed.data);
  const issue = parsed.error.issues[0];
  const path = issue.path.filter((part) => part !== 'settings').join('.');
  return failure({
    code: 'settings-malformed',
    path,
    detail: unitlessTwin(path, settings) ?? describeIssue(issue.message, valueAt(settings, path)),
  });
}

function splitBare(json: object): { settings: unknown; rest: object } {
  const entries = Object.entries(json);
  return {
    settings: Object.fromEntries(entries.filter(([key]) => !(key in context))),
    rest: Object.fromEntries(entries.filter(([key]) => key in context)),
  };
}

/** "power" given where "powerW" is due: the number has no unit. */
function unitlessTwin(path: string, settings: unknown): string | null {
  if (!NAMES.includes(path) || typeof settings !== 'object' || settings === null) return null;
  const twin = Object.keys(settings).find((key) => key !== path && path.startsWith(key));
  return twin === undefined ? null : `is missing: "${twin}" has no unit in its name`;
}

const valueAt = (settings: unknown, path: string): unknown =>
  typeof settings === 'object' && settings !== null ? (settings as Record<string, unknown>)[path] : undefined;

function describeIssue(message: string, value: unknown): string {
  return value === undefined ? 'is missing' : `is ${JSON.stringify(value)}: ${message}`;
}
