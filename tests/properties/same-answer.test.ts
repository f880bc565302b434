import fc from 'fast-check';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

// One day's fixes, written in every way that means the same.
const EVERY = 40;
let folder = '';
let header: readonly string[] = [];
let rows: readonly (readonly string[])[] = [];
let expected: Buffer = Buffer.alloc(0);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-same-'));
  for (const name of ['session.toml', 'geoid.csv'])
    cpSync(join(ROOT, 'examples', 'quillback-pan', name), join(folder, name));
  const lines = textOf('examples/quillback-pan/fixes.csv')
    .trimEnd()
    .split(/\r?\n/u)
    .map((line) => line.split(','));
  header = lines[0] ?? [];
  rows = lines.slice(1).filter((_, index) => index % EVERY < 12);
  writeFileSync(join(folder, 'plain.csv'), [header, ...rows].map((row) => row.join(',')).join('\n'));
  expected = (await reduce('plain.csv', [])).stdout;
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function reduce(name: string, options: readonly string[]): ReturnType<typeof runInProcess> {
  return runInProcess(['reduce-points', name, '-s', 'session.toml', '-q', ...options], { cwd: folder });
}

const spelling = fc.record({
  order: fc.array(fc.nat(1_000_000), { minLength: 17, maxLength: 17 }),
  lineEnd: fc.constantFrom('\n', '\r\n', '\r'),
  quoted: fc.constantFrom('none', 'all', 'some'),
  delimiter: fc.constantFrom(',', ';', '\t'),
  decimalComma: fc.boolean(),
  encoding: fc.constantFrom('utf8', 'utf8-mark', 'utf16'),
  capitals: fc.boolean(),
  blankLines: fc.boolean(),
  lastLineEnd: fc.boolean(),
});

describe('the same fixes written another way', () => {
  it('give the same bytes: order of columns, line ends, quotes, delimiter, decimal comma, encoding, capitals, blank lines', async () => {
    expect(expected.length).toBeGreaterThan(1000);
    await fc.assert(
      fc.asyncProperty(
        spelling,
        async ({ order, lineEnd, quoted, delimiter, decimalComma, encoding, capitals, blankLines, lastLineEnd }) => {
          const comma = decimalComma && delimiter !== ',';
          const columns = header.map((_, index) => index).sort((a, b) => (order[a] ?? 0) - (order[b] ?? 0) || a - b);
          const cell = (text: string, column: number, row: number): string => {
            const spelt = comma && row > 0 && /^-?\d+\.\d+$/u.test(text) ? text.replace('.', ',') : text;
            return quoted === 'all' || (quoted === 'some' && (column + row) % 3 === 0) ? `"${spelt}"` : spelt;
          };
          const named = header.map((name) => (capitals ? name.toUpperCase() : name));
          const lines = [named, ...rows].map((row, number) =>
            columns.map((column) => cell(row[column] ?? '', column, number)).join(delimiter),
          );
          const text = lines.join(blankLines ? lineEnd + lineEnd : lineEnd) + (lastLineEnd ? lineEnd : '');
          const bytes =
            encoding === 'utf16'
              ? Buffer.from(`\ufeff${text}`, 'utf16le')
              : Buffer.from((encoding === 'utf8-mark' ? '\ufeff' : '') + text);
          writeFileSync(join(folder, 'other.csv'), bytes);
          const { exit, stdout, stderr } = await reduce('other.csv', [
            '--delimiter',
            delimiter,
            ...(comma ? ['--decimal-comma'] : []),
          ]);
          expect(stderr).toBe('');
          expect(exit).toBe(1);
          expect(stdout.equals(expected)).toBe(true);
        },
      ),
      { numRuns: 60, seed: 20261125 },
    );
  });

  it('give the same bytes from a checkout whose files all end their lines with CR LF', async () => {
    for (const name of ['session.toml', 'geoid.csv', 'plain.csv'])
      writeFileSync(
        join(folder, `crlf-${name}`),
        readFileSync(join(folder, name), 'utf8').replaceAll('\n', '\r\n').replace('"geoid.csv"', '"crlf-geoid.csv"'),
      );
    const { stdout, stderr } = await runInProcess(
      ['reduce-points', 'crlf-plain.csv', '-s', 'crlf-session.toml', '-q'],
      { cwd: folder },
    );
    expect(stderr).toBe('');
    expect(stdout.equals(expected)).toBe(true);
  });

  it('give the same bytes from a file and from standard input', async () => {
    const { stdout } = await runInProcess(['reduce-points', '-', '-s', 'session.toml', '-q'], {
      cwd: folder,
      stdin: readFileSync(join(folder, 'plain.csv')),
    });
    expect(stdout.equals(expected)).toBe(true);
  });
});
