/** One line of a CGATS file, split into its words; quoted words have lost their quotes. */
export interface CgatsLine {
  /** Counted from 1. */
  readonly line: number;
  readonly words: readonly string[];
}

/** One table of a CGATS file: what was said before it, its field names and its rows. */
export interface CgatsTable {
  readonly header: readonly CgatsLine[];
  readonly fields: readonly string[];
  readonly rows: readonly CgatsLine[];
  /** Line of END_DATA; null when the file stops before it. */
  readonly endLine: number | null;
}

/** Words are parted by blanks or tabs; a quoted word may hold both. A number sign that starts a word starts a comment. */
const WORD = /"([^"]*)"?|#.*|[^\s"]+/g;

/**
 * Splits CGATS text into its tables. Lenient: lines it does not know are header lines, a table without a format of its
 * own takes the one before, line ends may be of any kind. What the words mean is for the caller to judge.
 * Source: [CGATS17].
 */
export function cgatsTables(text: string): CgatsTable[] {
  const tables: CgatsTable[] = [];
  let part: 'header' | 'format' | 'data' = 'header';
  let header: CgatsLine[] = [];
  let fields: string[] = [];
  let rows: CgatsLine[] = [];
  const closeTable = (endLine: number | null): void => {
    tables.push({ header, fields, rows, endLine });
    header = [];
    rows = [];
    part = 'header';
  };
  for (const current of cgatsLines(text)) {
    const keyword = current.words[0].toUpperCase();
    if (keyword === 'BEGIN_DATA_FORMAT') {
      part = 'format';
      fields = current.words.slice(1);
    } else if (keyword === 'BEGIN_DATA') part = 'data';
    else if (part === 'format' && keyword === 'END_DATA_FORMAT') part = 'header';
    else if (part === 'data' && keyword === 'END_DATA') closeTable(current.line);
    else if (part === 'format') fields.push(...current.words);
    else (part === 'data' ? rows : header).push(current);
  }
  if (part === 'data') closeTable(null);
  return tables;
}

function cgatsLines(text: string): CgatsLine[] {
  return text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((content, index) => ({ line: index + 1, words: wordsOf(content) }))
    .filter(({ words }) => words.length > 0);
}

function wordsOf(content: string): string[] {
  return [...content.matchAll(WORD)]
    .filter(([whole]) => !whole.startsWith('#'))
    .map(([whole, quoted]) => (whole.startsWith('"') ? quoted : whole));
}
