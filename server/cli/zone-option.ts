import { readFile } from 'node:fs/promises';
import { failure, parseZone, success, zoneFileSchema } from '../domain/index.ts';
import type { Outcome, Zone } from '../domain/index.ts';

export const ZONE_HELP =
  'mm:x0,y0,x1,y1 (card frame), px:x0,y0,... (polygon, upright photo) or @FILE.json ({"polygonMm": [[x,y],...]})';

/** Reads a zone as given on the command line; a leading @ names a file. */
export async function readZone(text: string | undefined): Promise<Outcome<Zone | null>> {
  if (text === undefined) return success(null);
  if (!text.startsWith('@')) return parseZone(text);
  const path = text.slice(1);
  let content: string;
  try {
    content = await readFile(path, 'utf8');
  } catch {
    return failure({ code: 'file-not-found', role: 'zone file', path });
  }
  const parsed = zoneFileSchema.safeParse(parseJson(content));
  if (parsed.success) return success(parsed.data);
  return failure({
    code: 'zone-malformed',
    text,
    detail: 'expected {"polygonMm": [[x, y], ...]} or {"polygonPx": [[x, y], ...]} with at least three finite points',
  });
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
