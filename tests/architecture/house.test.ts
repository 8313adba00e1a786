import { readFileSync, readdirSync } from 'node:fs';
import { basename, extname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Made by tools or by hand for looking at; not part of the project. */
const NOT_OURS = new Set(['node_modules', 'dist', 'out', 'coverage', '__pycache__']);

interface SourceFile {
  /** From the root, with forward slashes. */
  readonly path: string;
  readonly text: string;
}

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return NOT_OURS.has(entry.name) || entry.name.startsWith('.') ? [] : filesUnder(path);
    return entry.isFile() ? [path.split(sep).join('/')] : [];
  });
}

const TEXT = new Set(['.ts', '.tsx', '.mjs', '.cjs', '.js', '.py', '.json', '.md', '.css', '.html', '.yml', '.sh']);
const everything = filesUnder('.')
  .filter((path) => TEXT.has(extname(path)))
  .map((path): SourceFile => ({ path: relative('.', path), text: readFileSync(join(ROOT, path), 'utf8') }));
const isCode = ({ path }: SourceFile): boolean => /\.(ts|tsx|mjs)$/.test(path);
const code = everything.filter(isCode);
const server = code.filter(({ path }) => path.startsWith('server/'));
const inRooms = (...rooms: string[]): SourceFile[] =>
  server.filter(({ path }) => rooms.some((room) => path.startsWith(`server/${room}/`)));

const comments = (text: string): string => (text.match(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm) ?? []).join('\n');
const withoutComments = (text: string): string => text.replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '');
/** What breaks a rule, as "path: what"; an empty list is what a test expects. */
const offences = (files: readonly SourceFile[], find: (file: SourceFile) => readonly string[]): string[] =>
  files.flatMap((file) => find(file).map((what) => `${file.path}: ${what}`));
const matches = (text: string, pattern: RegExp): string[] => [...text.matchAll(pattern)].map(([found]) => found.trim());

it('the walk finds the project', () => {
  expect(server.length).toBeGreaterThan(100);
  expect(everything.some(({ path }) => path === 'package.json')).toBe(true);
});

describe('files', () => {
  it('of the server have at most 400 lines, tables excepted', () => {
    const long = server.filter(({ path, text }) => !path.endsWith('-tables.ts') && text.split('\n').length > 401);
    expect(long.map(({ path }) => path)).toEqual([]);
  });

  it('are named in kebab-case', () => {
    const isKebab = (path: string): boolean =>
      basename(path)
        .split('.')
        .every((part) => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(part));
    expect(code.filter(({ path }) => !isKebab(path)).map(({ path }) => path)).toEqual([]);
  });

  it('name the noun: no utils, helpers, misc, common, manager, core or data, alone or at the end', () => {
    const vague = /^(?:.*-)?(utils?|helpers?|misc|common|manager|core|data)$/;
    const vagueParts = (path: string): string[] =>
      path
        .split('/')
        .map((part) => part.replace(/(\.test)?\.[a-z]+$/, ''))
        .filter((part) => vague.test(part));
    expect(offences(code, ({ path }) => vagueParts(path))).toEqual([]);
  });

  it('stand where the top level has a place for them', () => {
    const fixed = ['server', 'client', 'models', 'fixtures', 'tests'];
    const top = everything.map(({ path }) => path.split('/')).filter((parts) => parts.length > 1);
    expect([...new Set(top.map(([folder]) => folder))].filter((folder) => !fixed.includes(folder))).toEqual([]);
  });
});

describe('exports', () => {
  it('have names: none is a default export, but for tools’ own configuration and entries that tools load', () => {
    // Entries of worker threads are .mjs and hand over a default export.
    const ours = code.filter(({ path }) => path.includes('/') && /\.tsx?$/.test(path));
    expect(offences(ours, ({ text }) => matches(text, /^export default .*$|\bas default\b/gm))).toEqual([]);
  });

  it('are not gathered in barrels but for the vocabulary', () => {
    const barrels = server.filter(({ text }) => /^export \* from/m.test(text)).map(({ path }) => path);
    expect(barrels).toEqual(['server/domain/index.ts']);
    const onlyReExports = server.filter(({ path, text }) => {
      const statements = withoutComments(text)
        .split(';')
        .map((s) => s.trim())
        .filter((s) => s !== '');
      return (
        path !== 'server/domain/index.ts' &&
        statements.length > 0 &&
        statements.every((s) => /^export [^=]* from '/.test(s))
      );
    });
    expect(onlyReExports.map(({ path }) => path)).toEqual([]);
  });
});

describe('imports', () => {
  it('carry the .ts extension and never lead out of the project', () => {
    const bad = (text: string): string[] =>
      matches(text, /from '\.[^']*'/g).filter((found) => !/\.(ts|tsx|mjs|json|css)'$/.test(found));
    expect(offences(code, ({ text }) => bad(withoutComments(text)))).toEqual([]);
  });

  it.each([
    ['sharp', /^server\/adapters\//],
    ['opencv-wasm', /^server\/adapters\/vision\//],
    ['onnxruntime-node', /^server\/adapters\/segmenter\//],
    ['commander', /^server\/cli\//],
    ['express', /^server\/http\//],
    ['kysely', /^server\/adapters\/database\//],
    ['better-sqlite3', /^server\/adapters\/database\//],
    ['pdfkit', /^server\/adapters\/report\//],
  ])('of %s are kept to where it belongs', (library, place) => {
    const importing = server.filter(({ text }) =>
      new RegExp(`from '${library}(/[^']*)?'|\\('${library}'\\)`).test(text),
    );
    expect(importing.length).toBeGreaterThan(0);
    expect(importing.filter(({ path }) => !place.test(path)).map(({ path }) => path)).toEqual([]);
  });
});

describe('the pure rooms', () => {
  const pure = inRooms('measure', 'process', 'evidence', 'domain');

  it('know no clock, no chance, no process, no network and no console', () => {
    const impure =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bconsole\.|\bprocess\.|\bperformance\.|\bsetTimeout\b|\bsetInterval\b|\bfetch\(|\brequire\(|\bglobalThis\b|from 'node:/g;
    expect(offences(pure, ({ text }) => matches(withoutComments(text), impure))).toEqual([]);
  });

  it('import no library, but for zod in the vocabulary', () => {
    const libraries = (text: string): string[] => matches(text, /from '[^.'][^']*'/g);
    const allowed = (path: string, found: string): boolean =>
      path.startsWith('server/domain/') && found === "from 'zod'";
    expect(
      offences(pure, ({ path, text }) => libraries(withoutComments(text)).filter((found) => !allowed(path, found))),
    ).toEqual([]);
  });

  it('keep no state that one call leaves for the next, but for tables that are filled once', () => {
    // A module-level `let` is allowed where its name says that it is made on first use and never changed again.
    const states = offences(pure, ({ text }) => matches(withoutComments(text), /^let \w+/gm));
    expect(states).toEqual(['server/measure/segmentation/segment-by-colour.ts: let refined']);
  });
});

describe('sources', () => {
  const references = readFileSync(join(ROOT, 'server/domain/REFERENCES.md'), 'utf8');
  const keys = new Set(
    references
      .split('\n')
      .filter((line) => line.startsWith('|'))
      .flatMap((line) => line.split('|')[1].split(','))
      .map((key) => key.trim()),
  );

  it('named in square brackets all stand in REFERENCES.md', () => {
    const cited = (text: string): string[] =>
      [...comments(text).matchAll(/\[([A-Z][A-Z0-9.-]*\d*)\]/g)].map(([, key]) => key).filter((key) => !keys.has(key));
    const documents = everything.filter(({ path }) => /^server\/.*\.ts$|^fixtures\/.*\.ts$/.test(path));
    expect(offences(documents, ({ text }) => cited(text))).toEqual([]);
  });

  it('are stated once each, with how far they were seen', () => {
    const rows = references.split('\n').filter((line) => /^\| [A-Z]/.test(line));
    expect(rows.length).toBeGreaterThan(40);
    const first = rows.map((row) => row.split('|')[1].trim());
    expect(new Set(first).size).toBe(first.length);
    for (const row of rows) expect(row.split('|')[3].trim().length).toBeGreaterThan(4);
  });

  it('the glossary has one row for each word', () => {
    const glossary = readFileSync(join(ROOT, 'server/domain/GLOSSARY.md'), 'utf8');
    const terms = glossary
      .split('\n')
      .filter((line) => /^\| [a-z]/.test(line) && !line.startsWith('| term'))
      .map((line) => line.split('|')[1].trim());
    expect(terms.length).toBeGreaterThan(25);
    expect(new Set(terms).size).toBe(terms.length);
  });
});

describe('what is written down', () => {
  const authored = everything.filter(
    ({ path }) => path !== 'package-lock.json' && path !== 'tests/architecture/house.test.ts',
  );

  it('names no place of anybody’s machine', () => {
    const places = /(?<![\w.~-])\/(?:home|root|work|Users|mnt|tmp)\/[A-Za-z0-9_.-]+/g;
    expect(offences(authored, ({ text }) => matches(text, places))).toEqual([]);
  });

  it('names no host but the machine itself, examples, and names that formats are made of', () => {
    const allowed =
      /^(127\.0\.0\.1|localhost|\[::1\]|www\.w3\.org|.*\.example(\.(com|org|net))?|example\.(com|org|net))$/;
    const hosts = (text: string): string[] =>
      [...text.matchAll(/https?:\/\/([A-Za-z0-9.[\]:-]+)/g)]
        .map(([, host]) => host.replace(/:\d+$/, '').replace(/\.$/, ''))
        .filter((host) => !allowed.test(host));
    expect(offences(authored.filter(isCode), ({ text }) => hosts(text))).toEqual([]);
  });

  it('says in the lockfile nothing of where packages were fetched from', () => {
    const lock = everything.find(({ path }) => path === 'package-lock.json')?.text ?? '';
    expect(lock.length).toBeGreaterThan(1000);
    expect(matches(lock, /"resolved": "http[^"]*"/g)).toEqual([]);
  });

  it('has tests that neither wait nor try again', () => {
    const tests = code.filter(({ path }) => path.endsWith('.test.ts') && path !== 'tests/architecture/house.test.ts');
    expect(
      offences(tests, ({ text }) => matches(withoutComments(text), /\b(it|describe)\.(only|skip)\(|\bretry:/g)),
    ).toEqual([]);
  });
});
