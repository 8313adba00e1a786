import type { ExportFormat } from '../domain/api/exports.ts';

/** A cell: text, number, flag, or nothing. */
export type Cell = string | number | boolean | null;
/** One line of a table; every line has the same names in the same order. Names carry units. */
export type TableRow = Readonly<Record<string, Cell>>;

/**
 * Writes rows as CSV (comma, quotes doubled, CRLF) or as one JSON object a line. Source: [RFC4180].
 * @param names columns in their order, for a table without rows
 */
export async function* tableLines(
  rows: AsyncIterable<TableRow>,
  names: readonly string[],
  format: ExportFormat,
): AsyncGenerator<string> {
  if (format === 'csv') yield `${names.join(',')}\r\n`;
  for await (const row of rows) {
    yield format === 'csv' ? csvLine(row, names) : jsonLine(row, names);
  }
}

const jsonLine = (row: TableRow, names: readonly string[]): string =>
  `${JSON.stringify(Object.fromEntries(names.map((name) => [name, row[name] ?? null])))}\n`;

const csvLine = (row: TableRow, names: readonly string[]): string =>
  `${names.map((name) => csvCell(row[name] ?? null)).join(',')}\r\n`;

function csvCell(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell !== 'string') return String(cell);
  // A spreadsheet runs text that begins like a formula; a quote mark in front keeps it text (common practice).
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
