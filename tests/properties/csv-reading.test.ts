import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../src/io/csv/csv-read.js';
import { codes, stdinSource } from '../io/support.js';
import { independentCsv } from './independent-csv.js';

/** Every record of a text without a header, by the reader under test; codes where it refuses. */
async function readRecords(
  text: string,
  delimiter: string,
  chunkBytes: number,
  blockBytes: number,
): Promise<readonly (readonly string[])[] | readonly string[]> {
  const source = await stdinSource(text, chunkBytes);
  const table = await readCsv(
    source,
    { ...DEFAULT_DIALECT, delimiter, hasHeader: false },
    { blockBytes, maxRecordBytes: 1 << 20 },
  );
  if (!table.ok) return codes(table);
  const records: (readonly string[])[] = [];
  for await (const block of table.value.blocks()) {
    if (!block.ok) return codes(block);
    records.push(...block.value.rows());
  }
  return records;
}

const sizes = [fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 64 })] as const;

describe('reading delimited text', () => {
  it('agrees with an independent reader on any text made of the characters that matter, errors included', async () => {
    const text = fc.string({
      unit: fc.constantFrom('a', 'b', ',', ';', '"', '\n', '\r', ' ', 'é', '7'),
      maxLength: 40,
    });
    await fc.assert(
      fc.asyncProperty(
        text,
        fc.constantFrom(',', ';'),
        ...sizes,
        async (content, delimiter, chunkBytes, blockBytes) => {
          const expected = independentCsv(content, delimiter);
          const got = await readRecords(content, delimiter, chunkBytes, blockBytes);
          if (expected === null) expect(got).toEqual(['csv-syntax']);
          else if (expected.length === 0) expect(got).toEqual(['csv-empty']);
          else expect(got).toEqual(expected);
        },
      ),
      { numRuns: 3000, seed: 20261125 },
    );
  });

  it('gives any cells back, whatever is quoted and however lines end, with and without a byte order mark', async () => {
    const cell = fc
      .string({ unit: 'binary', maxLength: 12 })
      .filter((text) => !text.includes('\u0000') && !/\p{Cs}/u.test(text));
    const written = fc.tuple(cell, fc.boolean());
    const lineEnd = fc.constantFrom('\n', '\r\n', '\r');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.array(written, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 }),
        lineEnd,
        fc.boolean(),
        ...sizes,
        async (rows, end, hasMark, chunkBytes, blockBytes) => {
          const body = rows
            .map((row) =>
              row
                .map(([text, isQuoted]) =>
                  isQuoted || /[",\r\n]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text,
                )
                .join(','),
            )
            .join(end);
          fc.pre(!body.startsWith('\ufeff'));
          expect(await readRecords(`${hasMark ? '\ufeff' : ''}${body}${end}`, ',', chunkBytes, blockBytes)).toEqual(
            rows.map((row) => row.map(([text]) => text)),
          );
        },
      ),
      { numRuns: 800, seed: 20261125 },
    );
  });
});
