import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../../src/core/numeric/text/decimal-text.js';
import { parseUtc } from '../../../src/core/numeric/text/parse-utc.js';
import { DEFAULT_DIALECT } from '../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../src/io/csv/csv-read.js';
import { readFixes } from '../../../src/io/tables/fixes/fixes-read.js';
import type { RejectedRow } from '../../../src/io/tables/columns/row-loop.js';
import { createPlainText, createPlainTime, plainNumber } from '../../../src/io/csv/plain-cell-values.js';
import type { Fix } from '../../../src/records/points/fix.js';
import { stdinSource, value } from '../support.js';

/** Cell text with its neighbours, so that a reader that looks past its cell is caught. */
function within(text: string): readonly [Buffer, number, number] {
  const bytes = Buffer.from(`7,${text},7`, 'utf8');
  return [bytes, 2, bytes.length - 2];
}

const digits = fc.stringMatching(/^[0-9]{0,12}$/u);
const numberText = fc.oneof(
  fc
    .tuple(fc.constantFrom('', '-', '+'), digits, fc.constantFrom('', '.', '..', '-', 'e3'), digits)
    .map((parts) => parts.join('')),
  fc.double({ noNaN: true }).map(String),
  fc.stringMatching(/^[-+.0-9e x,/:;]{0,8}$/u),
);

describe('plain cells', () => {
  it('read a number as parseDecimal does, bit for bit, or leave it', () => {
    let answered = 0;
    fc.assert(
      fc.property(numberText, (text) => {
        const got = plainNumber(...within(text));
        if (Number.isNaN(got)) return;
        answered += 1;
        expect(Object.is(got, parseDecimal(text))).toBe(true);
      }),
      { numRuns: 20_000, seed: 3 },
    );
    expect(answered).toBeGreaterThan(1000);
  });

  it.each([
    ['-0.0', -0],
    ['123456789012345', 123456789012345],
    ['.5', 0.5],
    ['5.', 5],
    ['-31.5000000001', -31.5000000001],
    ['0.00000000000001', 1e-14],
  ])('read the plain number %s themselves', (text, expected) => {
    expect(Object.is(plainNumber(...within(text)), expected)).toBe(true);
  });

  it.each(['', '-', '.', '+1', '1e3', ' 1', '1 ', '1.2.3', '1234567890123456', '--1', '1-', '/', ':'])(
    'leave the cell %j alone',
    (text) => {
      expect(plainNumber(...within(text))).toBeNaN();
    },
  );

  it('read a time as parseUtc does, or leave it', () => {
    const two = (high: number): fc.Arbitrary<string> =>
      fc.integer({ min: 0, max: high }).map((n) => String(n).padStart(2, '0'));
    const timeText = fc
      .tuple(
        fc.constantFrom('2026-03-04', '2026-02-29', '1969-12-31', '2000-02-29', '2026-03-4x'),
        two(25),
        two(61),
        two(61),
        fc.constantFrom('Z', '.250Z', '.2x0Z', '+02:00', ''),
      )
      .map(([date, hour, minute, second, end]) => `${date}T${hour}:${minute}:${second}${end}`);
    const read = createPlainTime();
    let answered = 0;
    fc.assert(
      fc.property(timeText, (text) => {
        const got = read(...within(text));
        if (Number.isNaN(got)) return;
        answered += 1;
        expect(got).toBe(parseUtc(text));
      }),
      { numRuns: 5000, seed: 4 },
    );
    expect(answered).toBeGreaterThan(500);
  });

  it('read a text of visible ASCII as it stands and leave any other', () => {
    const read = createPlainText();
    for (const text of ['P1', 'P1', 'P2', 'by the gate', '', '~', 'P']) expect(read(...within(text))).toBe(text);
    for (const text of [' P1', 'P1 ', 'é', 'a\tb', 'a\u007fb', '\u00a0']) expect(read(...within(text))).toBeNull();
  });
});

const HEAD =
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,epoch_utc,solution,satellites_used,tilt_deg,tilt_azimuth_deg,epoch_count,crew';

async function readAll(text: string): Promise<{ readonly fixes: Fix[]; readonly rejected: RejectedRow[] }> {
  const table = value(await readCsv(await stdinSource(text), DEFAULT_DIALECT));
  const toGeodetic = (): Fix['geodetic'] => ({ latitudeDeg: 1, longitudeDeg: 2, ellipsoidalHeightM: 3 });
  const input = value(readFixes(table, { sourceIndex: 0, mapping: {}, toGeodetic }));
  const fixes: Fix[] = [];
  const rejected: RejectedRow[] = [];
  for await (const block of input.blocks()) {
    fixes.push(...value(block).fixes);
    rejected.push(...value(block).rejected);
  }
  return { fixes, rejected };
}

describe('reading fixes from bytes', () => {
  it('gives the fixes and problems of the general reader, row by row', async () => {
    const odd = (plain: fc.Arbitrary<string>, ...others: string[]): fc.Arbitrary<string> =>
      fc.oneof({ weight: 12, arbitrary: plain }, { weight: 1, arbitrary: fc.constantFrom(...others) });
    const row = fc
      .tuple(
        odd(fc.constantFrom('P1', 'P2', '007'), '', ' P1', 'Pé', 'a\tb'),
        odd(fc.constantFrom('-31.5', '12.25', '90'), '', '95', '-31°30′00″', '1,5', 'x', ' 4'),
        odd(fc.constantFrom('21.4', '200', '-180'), '', '361', '21 24 00 E'),
        odd(fc.constantFrom('1043.2', '-5'), '', '1e3', '999999', '12.34567890123456789'),
        odd(
          fc.constantFrom('', '2026-03-04T06:00:00Z', '2026-03-04T06:00:01.500Z'),
          '2026-03-04T06:00:00',
          '2016-12-31T23:59:60Z',
          'noon',
        ),
        odd(fc.constantFrom('fixed', 'float', '4', ''), 'Fixed', 'fixd'),
        odd(fc.constantFrom('18', '', '7'), '7.5', '1000'),
        odd(fc.constantFrom('', '0', '3.5'), '91'),
        odd(fc.constantFrom('', '120'), '-361'),
        odd(fc.constantFrom('', '30', '1'), '0', '2.5'),
        odd(fc.constantFrom('', 'north gate'), ' x ', 'é', 'a,b'),
      )
      .map((cells) => cells.join(','));
    await fc.assert(
      fc.asyncProperty(
        fc.array(row, { minLength: 1, maxLength: 12 }),
        fc.constantFrom('\n', '\r\n'),
        async (rows, end) => {
          const body = rows.join(end) + end;
          // A quote in the header sends the whole block to csv-parse and the general reader.
          const general = await readAll(`${HEAD.replace('crew', '"crew"')}${end}${body}`);
          const plain = await readAll(`${HEAD}${end}${body}`);
          expect(plain.fixes).toEqual(general.fixes);
          expect(plain.rejected).toEqual(general.rejected);
        },
      ),
      { numRuns: 400, seed: 5 },
    );
  });
});
