import { describe, expect, it } from 'vitest';
import { tableLines } from '../../../server/services/table-lines.ts';
import type { TableRow } from '../../../server/services/table-lines.ts';

async function textOf(rows: readonly TableRow[], names: readonly string[], format: 'csv' | 'jsonl'): Promise<string> {
  // eslint-disable-next-line @typescript-eslint/require-await -- an asynchronous source with nothing to wait for
  async function* source(): AsyncGenerator<TableRow> {
    yield* rows;
  }
  const lines: string[] = [];
  for await (const line of tableLines(source(), names, format)) lines.push(line);
  return lines.join('');
}

describe('lines of a table', () => {
  // RFC 4180, section 2: fields with commas, quotes or line breaks stand in quotes, quotes are doubled, lines end in CRLF.
  it('are CSV as RFC 4180 writes it', async () => {
    const rows = [
      { a: 'plain', b: 'with, comma' },
      { a: 'b "CCC"', b: 'two\r\nlines' },
    ];
    expect(await textOf(rows, ['a', 'b'], 'csv')).toBe('a,b\r\nplain,"with, comma"\r\n"b ""CCC""","two\r\nlines"\r\n');
  });

  it('keep numbers as they are and leave nothing empty', async () => {
    expect(await textOf([{ x: -1.5, y: null, z: true }], ['x', 'y', 'z'], 'csv')).toBe('x,y,z\r\n-1.5,,true\r\n');
  });

  it('do not let a name run as a formula', async () => {
    expect(await textOf([{ a: '=1+1' }, { a: '@x' }], ['a'], 'csv')).toBe("a\r\n'=1+1\r\n'@x\r\n");
  });

  it('are JSON with the same names in every line', async () => {
    const text = await textOf([{ a: '=1' }, { b: 2 }], ['a', 'b'], 'jsonl');
    expect(
      text
        .trim()
        .split('\n')
        .map((line) => JSON.parse(line) as unknown),
    ).toEqual([
      { a: '=1', b: null },
      { a: null, b: 2 },
    ]);
  });

  it('of a table without rows are its header', async () => {
    expect(await textOf([], ['a', 'b'], 'csv')).toBe('a,b\r\n');
    expect(await textOf([], ['a', 'b'], 'jsonl')).toBe('');
  });
});
