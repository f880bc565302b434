import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { open } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { createCsvWriter } from '../../../src/io/csv/csv-write.js';
import { decimalsOf, instantOf } from '../../../src/io/parquet/column-types.js';
import type { KnownColumn } from '../../../src/io/parquet/column-types.js';
import { parquetSource } from '../../../src/io/parquet/parquet-source.js';
import { parquetChange } from '../../../src/io/parquet/parquet-write.js';
import { value } from '../support.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-parquet-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const KINDS = ['id', 'text', 'number', 'whole', 'latitude', 'time', 'yes-no', 'codes'] as const;
const NEAR_NUMBERS = fc.oneof(
  fc.constantFrom(
    '',
    '0',
    '-0',
    '-0.00',
    '0.10',
    '00.10',
    '.5',
    '5.',
    '1e5',
    '+1',
    '-',
    '1.25',
    '999999999999999999',
    '9999999999999999999',
    ' 1',
  ),
  fc.integer().map(String),
  fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e9, max: 1e9 }).map((value) => value.toFixed(3)),
);
const NEAR_TIMES = fc.oneof(
  fc.constantFrom(
    '',
    '2026-02-29T00:00:00Z',
    '2026-03-04T05:02:00.000Z',
    '2026-03-04T24:00:00Z',
    '2026-03-04 05:02:00',
    '0000-01-01T00:00:00Z',
    '9999-12-31T23:59:59.999Z',
  ),
  fc
    .date({ min: new Date('1600-01-01'), max: new Date('2400-01-01'), noInvalidDate: true })
    .map((date) => date.toISOString().replace('.000Z', 'Z')),
);
const WORDS = fc.string({ unit: 'grapheme', maxLength: 12 }).map((text) => text.replaceAll('\0', ''));

async function throughParquet(text: string, known: ReadonlyMap<string, KnownColumn>): Promise<string> {
  const changed = value(await parquetChange('x.parquet', (name) => known.get(name) ?? null));
  const pieces: Uint8Array[] = [];
  const once = async function* (): AsyncGenerator<Buffer> {
    yield Buffer.from(text, 'utf8');
  };
  for await (const piece of changed.change({ [Symbol.asyncIterator]: once })) pieces.push(piece);
  expect(changed.problem()).toBeNull();
  const path = join(folder, 'x.parquet');
  writeFileSync(path, Buffer.concat(pieces));
  const handle = await open(path);
  const source = parquetSource('x.parquet', path, { handle, stats: await handle.stat() });
  let read = '';
  for await (const chunk of source.chunks()) read += value(chunk).toString('utf8');
  return read;
}

describe('texts through Parquet', () => {
  it('come back as they were, whatever kind their column is', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc
          .array(fc.tuple(fc.constantFrom(...KINDS), fc.constantFrom(NEAR_NUMBERS, NEAR_TIMES, WORDS)), {
            minLength: 2,
            maxLength: 5,
          })
          .chain((columns) =>
            fc.tuple(
              fc.constant(columns.map(([kind]) => kind)),
              fc.array(fc.tuple(...columns.map(([, cells]) => cells)), { minLength: 1, maxLength: 20 }),
            ),
          ),
        async ([kinds, rows]) => {
          const names = kinds.map((_, index) => `c${String(index)}`);
          const known = new Map(
            kinds.map((kind, index) => [
              `c${String(index)}`,
              { name: `c${String(index)}`, kind, decimals: 3, describe: 'x' },
            ]),
          );
          const writer = createCsvWriter(names);
          const text = writer.header() + writer.rows(rows);
          expect(await throughParquet(text, known)).toBe(text);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('come back from many row groups', async () => {
    const known = new Map([['n_m', { name: 'n_m', kind: 'number' as const, decimals: 4, describe: 'x' }]]);
    const names = ['point_id', 'n_m', ...Array.from({ length: 38 }, (_, index) => `t${String(index)}`)];
    const rows = Array.from({ length: 25_003 }, (_, row) => [
      `P${String(row)}`,
      (row / 7).toFixed(4),
      ...names.slice(2).map((_, index) => ((row + index) % 3 === 0 ? '' : `w${String(row % 5)}`)),
    ]);
    const writer = createCsvWriter(names);
    const text = writer.header() + writer.rows(rows);
    expect((await throughParquet(text, known)) === text).toBe(true);
  });
});

describe('what a cell is', () => {
  it('tells a number that its value gives back from one that it does not', () => {
    expect(['0', '12', '-3', '0.10', '-0.01', '123456789.123456789'].map(decimalsOf)).toEqual([0, 0, 0, 2, 2, 9]);
    for (const text of [
      '',
      '-',
      '.5',
      '5.',
      '00',
      '01.5',
      '-0',
      '-0.00',
      '+1',
      '1e5',
      '1,5',
      ' 1',
      '1234567890123456789',
    ])
      expect(decimalsOf(text), text).toBe(-1);
  });

  it('tells the instant of a time as it is written, and of no other', () => {
    // Of the engine's own calendar.
    expect(instantOf('2024-02-29T23:59:59.250Z')).toBe(Date.UTC(2024, 1, 29, 23, 59, 59, 250));
    expect(instantOf('1899-12-31T00:00:00Z')).toBe(Date.UTC(1899, 11, 31));
    for (const text of [
      '2023-02-29T00:00:00Z',
      '2026-03-04T05:02:60Z',
      '2026-03-04T05:02:00.000Z',
      '2026-03-04T05:02:00',
    ])
      expect(instantOf(text), text).toBeNull();
  });
});
