import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import { readPlaceRows } from '../../../../src/io/tables/points/place-rows-read.js';
import type { PlaceInput, PlaceReadOptions } from '../../../../src/io/tables/points/place-input.js';
import { present } from '../../../../src/records/present.js';
import type { Outcome } from '../../../../src/records/outcome.js';
import type { PlaceRow } from '../../../../src/records/points/place-row.js';
import { codes, stdinSource, value } from '../../support.js';

const GRID: PlaceReadOptions = {
  kind: 'projected',
  axes: ['easting_m', 'northing_m'],
  needs: null,
  mapping: {},
  trust: 'all',
  beside: null,
  alsoLeftOut: [],
};
const DEGREES: PlaceReadOptions = { ...GRID, kind: 'geographic', axes: null };
const open = async (
  text: string,
  options: Partial<PlaceReadOptions> & Pick<PlaceReadOptions, 'kind'> = GRID,
): Promise<Outcome<PlaceInput>> =>
  readPlaceRows(value(await readCsv(await stdinSource(text), DEFAULT_DIALECT)), {
    ...(options.kind === 'projected' ? GRID : DEGREES),
    ...options,
  });

async function read(outcome: Outcome<PlaceInput>) {
  const rows: PlaceRow[] = [];
  const raw: string[] = [];
  const others: unknown[] = [];
  const rejected: string[] = [];
  let withoutPlace = 0;
  for await (const piece of value(outcome).blocks()) {
    const block = value(piece);
    for (let index = 0; index < block.rows.length; index += 1) {
      const row = present(block.rows.at(index), 'row');
      rows.push(row);
      raw.push(block.rawOf(row).trim());
      others.push(block.otherPositionOf(row));
    }
    rejected.push(...block.rejected.flatMap(({ problems }) => problems.map(({ code }) => code)));
    withoutPlace += block.withoutPlace;
  }
  return { rows, raw, others, rejected, withoutPlace };
}
const close = (number: number): unknown => expect.closeTo(number, 12);

describe('points to be transformed', () => {
  it('are read with their heights, and every other column passes through as it stands', async () => {
    const input = await open(
      'point_id,easting_m,northing_m,ellipsoidal_height_m,orthometric_height_m,crew\n007,1.5,-2,10,,"a, b"\nB,3,4,,20,\n',
    );
    expect(value(input)).toMatchObject({
      passThroughNames: ['crew'],
      leftOut: [],
      notTrusted: [],
      hasEllipsoidal: true,
      hasOrthometric: true,
    });
    const { rows, raw } = await read(input);
    expect(rows).toMatchObject([
      {
        pointId: '007',
        first: 1.5,
        second: -2,
        ellipsoidalHeightM: 10,
        orthometricHeightM: null,
        passThrough: ['a, b'],
        line: 2,
      },
      {
        pointId: 'B',
        first: 3,
        second: 4,
        ellipsoidalHeightM: null,
        orthometricHeightM: 20,
        passThrough: [''],
        line: 3,
      },
    ]);
    expect(raw).toEqual(['007,1.5,-2,10,,"a, b"', 'B,3,4,,20,']);
    const bare = value(await open('point_id,easting_m,northing_m\nA,1,2\n'));
    expect([bare.hasEllipsoidal, bare.hasOrthometric, bare.passThroughNames]).toEqual([false, false, []]);
  });

  it('that the reduction rejected, and that have no position, are left out and counted; others are refused', async () => {
    const { rows, rejected, withoutPlace } = await read(
      await open(
        'point_id,easting_m,northing_m,verdict\nA,1,2,accepted\nB,,,rejected\nC,, , rejected \nD,,,review\nE,1,,rejected\nF,3,4,rejected\n',
      ),
    );
    expect(rows.map(({ pointId }) => pointId)).toEqual(['A', 'F']);
    expect(withoutPlace).toBe(2);
    // D and E lack what is needed: two cells, and one.
    expect(rejected).toHaveLength(3);
    // Without a verdict nothing says that a point was rejected.
    const plain = await read(await open('point_id,easting_m,northing_m\nB,,\n'));
    expect([plain.rows.length, plain.withoutPlace]).toEqual([0, 0]);
  });

  it('have three axes about the Earth or a place, and no ellipsoidal height beside them', async () => {
    for (const [kind, names] of [
      ['geocentric', 'x_m,y_m,z_m'],
      ['topocentric', 'east_m,north_m,up_m'],
    ] as const) {
      const input = await open(`point_id,${names},ellipsoidal_height_m,orthometric_height_m\nA,1,2,3,9,8\n`, { kind });
      expect(value(input)).toMatchObject({ hasEllipsoidal: false, hasOrthometric: true });
      expect((await read(input)).rows).toMatchObject([
        { first: 1, second: 2, third: 3, ellipsoidalHeightM: null, orthometricHeightM: 8 },
      ]);
    }
  });

  it('leave out columns that belong to the system they come from, and figures of trust that are lost', async () => {
    const head =
      'point_id,latitude_deg,longitude_deg,X_m,convergence_deg,easting_m,northing_m,Zone,sigma_east_m,vertical_95_m,note';
    const text = `${head}\nA,-31.5,21.5,1,2,3,4,34,0.01,0.02,n\n`;
    const names = async (own: Partial<PlaceReadOptions>): Promise<unknown> => {
      const { passThroughNames, leftOut, notTrusted } = value(await open(text, { ...DEGREES, ...own }));
      return { passThroughNames, leftOut, notTrusted };
    };
    const leftOut = ['X_m', 'convergence_deg', 'easting_m', 'northing_m'];
    expect(await names({})).toEqual({
      passThroughNames: ['Zone', 'sigma_east_m', 'vertical_95_m', 'note'],
      leftOut,
      notTrusted: [],
    });
    expect(await names({ trust: 'plan', alsoLeftOut: ['zone'] })).toEqual({
      passThroughNames: ['sigma_east_m', 'note'],
      leftOut: [...leftOut, 'Zone'],
      notTrusted: ['vertical_95_m'],
    });
    expect(await names({ trust: 'none' })).toMatchObject({ notTrusted: ['sigma_east_m', 'vertical_95_m'] });
  });

  it('may have a second position beside the one that is read, with half a unit of its last digits', async () => {
    const grid = 'point_id,easting_m,northing_m,latitude_deg,longitude_deg\n';
    const { others } = await read(
      await open(`${grid}A,1.50,2.5,-31.5,21.45\nB,1,2,,21\nC,1,2,x,21\nD,1,2,31 30 00 S,21\n`),
    );
    // The coarser of both: 0.05 of a latitude of one decimal, 0.05 of a northing.
    expect(others).toEqual([
      { first: -31.5, second: 21.45, rounding: close(0.05), readRounding: close(0.05) },
      null,
      null,
      expect.objectContaining({ first: -31.5, second: 21 }),
    ]);
    const degrees = 'point_id,latitude_deg,longitude_deg,easting_m,northing_m\nA,-31.5,21.45,1.50,2.125\nB,-31,21,1,\n';
    expect((await read(await open(degrees, { ...DEGREES, beside: ['easting_m', 'northing_m'] }))).others).toEqual([
      { first: 1.5, second: 2.125, rounding: close(0.005), readRounding: close(0.05) },
      null,
    ]);
    expect((await read(await open(degrees, DEGREES))).others).toEqual([null, null]);
    expect((await read(await open(degrees, { ...DEGREES, beside: ['westing_m', 'southing_m'] }))).others).toEqual([
      null,
      null,
    ]);
  });

  it('need the height that the run cannot do without, and the axes of their system', async () => {
    const plain = 'point_id,easting_m,northing_m\nA,1,2\n';
    for (const needs of ['ellipsoidal', 'orthometric'] as const)
      expect(codes(await open(plain, { ...GRID, needs }))).toEqual(['csv-missing-column']);
    const swapped = await open('point_id,westing_m,southing_m\nA,1,2\n');
    expect(codes(swapped)).toEqual(['csv-axes-mismatch']);
    expect(swapped.problems[0]?.hint).not.toContain('--system');
  });

  it('are handed on sixty-four at a time', async () => {
    const rows = Array.from({ length: 130 }, (_, index) => `P${String(index)},${String(index)},2\n`).join('');
    const counts: number[] = [];
    for await (const piece of value(await open(`point_id,easting_m,northing_m\n${rows}`)).blocks())
      counts.push(value(piece).rows.length);
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(130);
    expect(Math.max(...counts)).toBeLessThanOrEqual(64);
  });
});
