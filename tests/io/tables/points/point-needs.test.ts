import { describe, expect, it } from 'vitest';
import { DEFAULT_DIALECT } from '../../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../../src/io/csv/csv-read.js';
import type { PointNeeds } from '../../../../src/io/tables/points/point-row-read.js';
import { readPoints } from '../../../../src/io/tables/points/points-read.js';
import { stdinSource, value } from '../../support.js';

const COLUMNS = {
  grid: 'easting_m,northing_m',
  geographic: 'latitude_deg,longitude_deg',
  ellipsoidal: 'ellipsoidal_height_m',
  orthometric: 'orthometric_height_m',
} as const;
type Part = keyof typeof COLUMNS;
const CELLS: Readonly<Record<Part, string>> = {
  grid: '1000.25,2000.5',
  geographic: '-31.5,21.4',
  ellipsoidal: '1040.5',
  orthometric: '1000.5',
};
const PARTS = Object.keys(COLUMNS) as readonly Part[];

/** What is said of a row that has these parts, in a table that has all; `rejected`: no more is asked of such a row. */
async function said(has: readonly Part[], needs: PointNeeds, verdict = 'accepted'): Promise<readonly string[]> {
  const empty = (part: Part): string => CELLS[part].replaceAll(/[^,]/gu, '');
  const row = PARTS.map((part) => (has.includes(part) ? CELLS[part] : empty(part)));
  const text = `point_id,${PARTS.map((part) => COLUMNS[part]).join(',')},verdict\nA,${row.join(',')},${verdict}\n`;
  const outcome = readPoints(value(await readCsv(await stdinSource(text), DEFAULT_DIALECT)), {
    sourceIndex: 0,
    mapping: {},
    axes: ['easting_m', 'northing_m'],
    needs,
  });
  const found: string[] = [];
  for await (const block of value(outcome).blocks())
    found.push(...value(block).rejected.flatMap(({ problems }) => problems.map(({ message }) => message)));
  return found;
}

const NO = (what: string): string => `there is no ${what}, and this needs one`;

describe('what a row of points needs', () => {
  const all = PARTS;
  const without = (...parts: readonly Part[]): readonly Part[] => all.filter((part) => !parts.includes(part));
  it.each<readonly [PointNeeds['position'], PointNeeds['height'], readonly Part[], readonly string[]]>([
    ['grid', 'none', all, []],
    ['grid', 'none', without('grid'), [NO('grid position')]],
    ['grid', 'none', without('geographic', 'ellipsoidal', 'orthometric'), []],
    ['geographic', 'none', without('geographic'), [NO('latitude and longitude')]],
    ['geographic', 'none', without('grid', 'ellipsoidal', 'orthometric'), []],
    ['any', 'none', without('grid'), []],
    ['any', 'none', without('geographic'), []],
    ['any', 'none', without('grid', 'geographic'), [NO('position')]],
    ['none', 'none', ['ellipsoidal'], []],
    ['none', 'ellipsoidal', without('ellipsoidal'), [NO('ellipsoidal height')]],
    ['none', 'ellipsoidal', ['ellipsoidal'], []],
    ['none', 'orthometric', without('orthometric'), [NO('orthometric height')]],
    ['none', 'orthometric', ['orthometric'], []],
    ['none', 'any', without('ellipsoidal'), []],
    ['none', 'any', without('orthometric'), []],
    ['none', 'any', without('ellipsoidal', 'orthometric'), [NO('height')]],
    ['any', 'any', [], [NO('position'), NO('height')]],
  ])('position %s, height %s: of %j', async (position, height, has, expected) => {
    expect(await said(has, { position, height })).toEqual(expected);
    // A point that was rejected has none, and keeps its row.
    expect(await said(has, { position, height }, 'rejected')).toEqual([]);
  });

  it('keeps half a unit of the last digit of both positions where a row has two', async () => {
    const text = `point_id,${COLUMNS.grid},${COLUMNS.geographic}\nA,1000.25,2000.5,-31.5,21.4321\nB,1,2,,\n`;
    const outcome = readPoints(value(await readCsv(await stdinSource(text), DEFAULT_DIALECT)), {
      sourceIndex: 0,
      mapping: {},
      axes: ['easting_m', 'northing_m'],
      needs: { position: 'any', height: 'none' },
    });
    const points = [];
    for await (const block of value(outcome).blocks()) points.push(...value(block).points);
    // The coarser of each pair: 2000.5 and -31.5 are written to one decimal.
    expect(points[0]?.positionRounding?.grid).toBeCloseTo(0.05, 12);
    expect(points[0]?.positionRounding?.angleDeg).toBeCloseTo(0.05, 12);
    expect(points[1]?.positionRounding).toBeUndefined();
  });
});
