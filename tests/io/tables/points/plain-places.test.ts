import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { rowCount } from '../../../../src/io/csv/csv-block.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import { readPlaceRows } from '../../../../src/io/tables/points/place-rows-read.js';
import type { PlaceBlock, PlaceInput, PlaceReadOptions } from '../../../../src/io/tables/points/place-input.js';
import { success } from '../../../../src/records/outcome.js';
import type { Outcome } from '../../../../src/records/outcome.js';
import { present } from '../../../../src/records/present.js';
import { stdinSource, value } from '../../support.js';

const OPTIONS: PlaceReadOptions = {
  kind: 'geographic',
  axes: null,
  needs: null,
  mapping: {},
  trust: 'all',
  beside: null,
  alsoLeftOut: [],
};

/** The rows in the bytes of their file, block by block as they are read; those read with care where there are no bytes. */
async function* inBytesOf({ bytes, blocks }: PlaceInput): AsyncGenerator<Outcome<PlaceBlock>> {
  if (bytes === null) {
    yield* blocks();
    return;
  }
  let rows = 0;
  for await (const item of bytes.byteBlocks()) {
    const block = value(item);
    const located = value(bytes.locate(block, rows + 1));
    rows += rowCount(located);
    for (const places of bytes.placesOf(located, bytes.plainOf(block))) yield success(places);
  }
}

/** Every row as plain data with what was refused, and how many rows stayed in their bytes. */
async function read(text: string, options: PlaceReadOptions, carriesBytes: boolean, dialect = DEFAULT_DIALECT) {
  const table = value(await readCsv(await stdinSource(text), dialect));
  const rows: unknown[] = [];
  const told: unknown[] = [];
  let inBytes = 0;
  const input = value(readPlaceRows(table, options));
  for await (const piece of carriesBytes ? inBytesOf(input) : input.blocks()) {
    const block = value(piece);
    for (let index = 0; index < block.rows.length; index += 1) {
      const row = present(block.rows.at(index), 'row');
      const { pointId, first, second, third, ellipsoidalHeightM, orthometricHeightM, passThrough, line, record } = row;
      const heights = { ellipsoidalHeightM, orthometricHeightM };
      rows.push({ pointId, first, second, third, ...heights, passThrough, line, record, raw: block.rawOf(row) });
      if (block.carried !== null) inBytes += 1;
    }
    told.push(...block.rejected, ...block.warnings);
  }
  return { rows, told, inBytes };
}

const HEADER = 'crew,point_id,latitude_deg,longitude_deg,note,ellipsoidal_height_m,orthometric_height_m,day\n';
const plain = fc.record({
  id: fc.stringMatching(/^[!#$%*+./\w~-](?:[ !#$%*+./\w~-]{0,6}[!#$%*+./\w~-])?$/u),
  note: fc.stringMatching(/^[ !#$%&'()*+./:;<=>?@\w~-]{0,9}$/u),
  latitude: fc.integer({ min: -90_000_000, max: 90_000_000 }).map((n) => (n / 1e6).toFixed(6)),
  longitude: fc.integer({ min: -180_000_000, max: 360_000_000 }).map((n) => (n / 1e6).toFixed(6)),
  height: fc.oneof(fc.constant(''), fc.integer({ min: -12_000, max: 100_000 }).map(String)),
  level: fc.oneof(
    fc.constant(''),
    fc.constantFrom('-0', '12.', '.5', '1234.5678', '-00000001.25', '12345.1234567890', '0.00000000000001'),
    fc.double({ min: -11_999, max: 99_999, noNaN: true }).map((n) => n.toFixed(9)),
  ),
});
const line = plain.map(
  ({ id, note, latitude, longitude, height, level }) =>
    `${note},${id},${latitude},${longitude},${note},${height},${level},x`,
);
/** What the plain form is not: each must be read with care, or refused, as ever. */
const odd = fc.constantFrom(
  'a,"P, 1",1,2,n,3,4,x',
  'a, P1,1,2,n,3,4,x',
  'a,Ü1,1,2,ü\u200b,3,4,x',
  'a,P1,+1,2,n,3,4,x',
  'a,P1,1e0,2,n,3,4,x',
  'a,P1,91,2,n,3,4,x',
  'a,P1,1,361,n,3,4,x',
  'a,P1,,2,n,3,4,x',
  'a,,1,2,n,3,4,x',
  'a,P1,1,2,n,3,4',
  'a,P1,1,2,n,3,4,x,y',
  'a,P1,1,2,n,-12001,4,x',
  'a,P1,1,2,n,3,4.1234567890123456,x',
  'a,P1,12 30 00,2,n,3,4,x',
  'a,P\t1,1,2,n,3,4,x',
  '',
);

describe('rows that stay in their bytes', () => {
  it('are those that are read with care, number for number and text for text', async () => {
    let inBytes = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(line, { minLength: 1, maxLength: 30 }), async (lines) => {
        const text = `${HEADER}${lines.join('\n')}\n`;
        const quick = await read(text, OPTIONS, true);
        const careful = await read(text, OPTIONS, false);
        expect(quick.rows).toEqual(careful.rows);
        expect([quick.told, quick.inBytes]).toEqual([[], lines.length]);
        expect(careful.inBytes).toBe(0);
        inBytes += quick.inBytes;
      }),
      { numRuns: 150, seed: 4 },
    );
    expect(inBytes).toBeGreaterThan(500);
  });

  it('leave a block with any other row to be read with care, and nothing of it is lost', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.oneof(line, odd), { minLength: 1, maxLength: 12 }), odd, async (lines, last) => {
        const text = `${HEADER}${[...lines, last].join('\n')}\n`;
        const quick = await read(text, OPTIONS, true);
        const careful = await read(text, OPTIONS, false);
        expect({ ...quick, inBytes: 0 }).toEqual(careful);
      }),
      { numRuns: 400, seed: 5 },
    );
  });

  it('are parted by comments, blank lines and line ends of every kind, and the last may have none', async () => {
    const dialect = { ...DEFAULT_DIALECT, comment: '#' };
    const text = `${HEADER}# A,1,2,3\n,A,1,2,,3,,\r\n\r\n,B,1,2,,3,,\r,C,1,2,,3,,\n#\n,D,1,2,,3,,x`;
    const quick = await read(text, OPTIONS, true, dialect);
    const careful = await read(text, OPTIONS, false, dialect);
    expect(quick.rows).toEqual(careful.rows);
    expect(quick.rows).toMatchObject([
      { pointId: 'A', line: 3 },
      { pointId: 'B', line: 5 },
      { pointId: 'C', line: 6 },
      { pointId: 'D', line: 8, passThrough: ['', '', 'x'] },
    ]);
    expect(quick.inBytes).toBe(4);
  });

  it('are none where the character between cells could be part of a number', async () => {
    const dialect = { ...DEFAULT_DIALECT, delimiter: '-' };
    const text = `${HEADER.replaceAll(',', '-')}a-P1-1-2-n-3-4-x\n`;
    const quick = await read(text, OPTIONS, true, dialect);
    expect(quick.inBytes).toBe(0);
    expect(quick.rows).toMatchObject([{ pointId: 'P1', first: 1, second: 2 }]);
  });

  it('turn a longitude beyond 180, and keep no height of the row before', async () => {
    const text = `${HEADER},A,1,359.5,,10,20,\n,B,2,180,,,,\n`;
    const { rows, inBytes } = await read(text, OPTIONS, true);
    expect(inBytes).toBe(2);
    expect(rows).toMatchObject([
      { pointId: 'A', first: 1, second: -0.5, third: 0, ellipsoidalHeightM: 10, orthometricHeightM: 20, line: 2 },
      { pointId: 'B', first: 2, second: 180, third: 0, ellipsoidalHeightM: null, orthometricHeightM: null, line: 3 },
    ]);
  });

  it('of three axes have the third, and no ellipsoidal height of a column', async () => {
    const options: PlaceReadOptions = { ...OPTIONS, kind: 'geocentric' };
    const text = 'point_id,x_m,y_m,z_m,ellipsoidal_height_m\nA,1,2,3,9\nB,-4.5,5,-6,8\n';
    const quick = await read(text, options, true);
    expect(quick.inBytes).toBe(2);
    expect(quick.rows).toEqual((await read(text, options, false)).rows);
    expect(quick.rows).toMatchObject([{ third: 3 }, { third: -6, ellipsoidalHeightM: null }]);
  });

  it('are none where cells have a unit of their own, a decimal comma or more than one byte between them', async () => {
    const feet: PlaceReadOptions = {
      ...OPTIONS,
      mapping: { ellipsoidal_height_m: { headers: ['height'], unit: 'ft' } },
    };
    const text = 'point_id,latitude_deg,longitude_deg,height\nA,1,2,10\n';
    const quick = await read(text, feet, true);
    expect(quick).toEqual(await read(text, feet, false));
    expect(quick).toMatchObject({ inBytes: 0, rows: [{ ellipsoidalHeightM: expect.closeTo(3.048, 9) as unknown }] });
  });
});
