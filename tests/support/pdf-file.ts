import { inflateSync } from 'node:zlib';

/** A small reader for the PDFs of this project: objects, streams and the text of pages, independent of the writing library. */
export interface PdfFile {
  readonly bytes: Buffer;
  /** Dictionary text by object number. */
  readonly objects: ReadonlyMap<number, string>;
  readonly trailer: string;
  stream(object: number): Buffer;
  /** Text of each page in the order in which it is drawn; one line for each text operation. */
  pageTexts(): string[];
}

export function readPdf(bytes: Buffer): PdfFile {
  const text = bytes.toString('latin1');
  const offsets = readCrossReferences(text);
  const objects = new Map<number, string>();
  for (const [number, offset] of offsets) {
    const from = text.slice(offset);
    const match = /^(\d+) 0 obj\n/.exec(from.slice(0, 20));
    if (match === null || Number(match[1]) !== number) throw new Error(`Object ${number} is not at its offset`);
    const ends = [from.indexOf('\nstream\n'), from.indexOf('\nendobj')].filter((at) => at >= 0);
    objects.set(number, from.slice(match[0].length, Math.min(...ends)));
  }
  const stream = (number: number): Buffer => readStream(bytes, offsets.get(number) ?? -1, objects.get(number) ?? '');
  return {
    bytes,
    objects,
    trailer: text.slice(text.lastIndexOf('trailer')),
    stream,
    pageTexts: () => pageTexts(objects, stream),
  };
}

function readCrossReferences(text: string): Map<number, number> {
  const start = Number(/startxref\n(\d+)\n%%EOF\s*$/.exec(text)?.[1]);
  const rows = /^xref\n0 (\d+)\n/.exec(text.slice(start));
  if (rows === null) throw new Error('Expected a cross-reference table');
  const table = text.slice(start + rows[0].length, start + rows[0].length + 20 * Number(rows[1]));
  return new Map(
    [...table.matchAll(/(\d{10}) \d{5} ([nf]) \n?/g)].flatMap(([, offset, kind], number) =>
      kind === 'n' ? [[number, Number(offset)] as const] : [],
    ),
  );
}

function readStream(bytes: Buffer, offset: number, dictionary: string): Buffer {
  const start = bytes.indexOf('\nstream\n', offset) + 8;
  const length = Number(/\/Length (\d+)/.exec(dictionary)?.[1]);
  const raw = bytes.subarray(start, start + length);
  return dictionary.includes('/FlateDecode') ? inflateSync(raw) : raw;
}

const reference = (dictionary: string, key: string): number =>
  Number(new RegExp(`/${key} (\\d+) 0 R`).exec(dictionary)?.[1]);

function pageTexts(objects: ReadonlyMap<number, string>, stream: (object: number) => Buffer): string[] {
  const fonts = new Map<string, Map<string, string>>();
  const pages = [...objects.values()].find((dictionary) => /\/Type \/Pages\b/.test(dictionary)) ?? '';
  const kids = [...(/\/Kids \[([^\]]*)\]/.exec(pages)?.[1] ?? '').matchAll(/(\d+) 0 R/g)].map(([, number]) =>
    Number(number),
  );
  return kids.map((kid) => {
    const page = objects.get(kid) ?? '';
    const resources = objects.get(reference(page, 'Resources')) ?? '';
    for (const [, name, font] of resources.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
      fonts.set(name, toUnicode(stream(reference(objects.get(Number(font)) ?? '', 'ToUnicode')).toString('latin1')));
    }
    return drawnText(stream(reference(page, 'Contents')).toString('latin1'), fonts);
  });
}

/** Character by glyph, both as four hexadecimal digits. */
function toUnicode(map: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const [, first, , list] of map.matchAll(/<([0-9a-f]{4})> <([0-9a-f]{4})> \[([^\]]*)\]/gi)) {
    [...list.matchAll(/<([0-9a-f ]+)>/gi)].forEach(([, code], at) => {
      const glyph = (Number.parseInt(first, 16) + at).toString(16).padStart(4, '0');
      const units = code.replace(/ /g, '').match(/.{4}/g) ?? [];
      found.set(glyph, String.fromCharCode(...units.map((unit) => Number.parseInt(unit, 16))));
    });
  }
  return found;
}

function drawnText(content: string, fonts: ReadonlyMap<string, ReadonlyMap<string, string>>): string {
  const lines: string[] = [];
  let font: ReadonlyMap<string, string> = new Map();
  for (const match of content.matchAll(/\/(F\d+) [\d.]+ Tf|\[((?:<[0-9a-f]*>|[-\d. ])*)\] TJ/gi)) {
    const name = match.at(1);
    if (name === undefined) lines.push(decoded(match[2], font));
    else font = fonts.get(name) ?? new Map();
  }
  return lines.join('\n');
}

function decoded(array: string, font: ReadonlyMap<string, string>): string {
  const runs = array.match(/<[0-9a-f]*>/gi) ?? [];
  const glyphs = runs.flatMap((run) => run.slice(1, -1).match(/.{4}/g) ?? []);
  return glyphs.map((glyph) => font.get(glyph.toLowerCase()) ?? '?').join('');
}
