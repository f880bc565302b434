import { describe, expect, it } from 'vitest';
import { readGeoidCsv } from '../../../src/io/grids/geoid-csv-read.js';
import { codes, value } from '../support.js';

const read = (text: string) => readGeoidCsv(Buffer.from(text, 'utf8'));
const HEADER = 'latitude_deg,longitude_deg,geoid_height_m';
const ROWS = ['-26,28,25.1', '-26,28.5,25.2', '-26,29,25.3', '-25.5,28,24.1', '-25.5,28.5,24.2', '-25.5,29,24.3'];
const text = (rows: readonly string[], header = HEADER): string => [header, ...rows, ''].join('\n');

describe('readGeoidCsv', () => {
  it('reads a full grid', () => {
    const level = value(read(text(ROWS))).levels[0]!;
    expect(level).toMatchObject({
      southDeg: -26,
      westDeg: 28,
      latitudeStepDeg: 0.5,
      longitudeStepDeg: 0.5,
      rows: 2,
      columns: 3,
    });
    expect(Array.from(level.values)).toEqual([25.1, 25.2, 25.3, 24.1, 24.2, 24.3]);
  });

  it('gives the same grid whatever the order of rows and columns, line ends, blank lines and a byte order mark', () => {
    const mixed = [3, 0, 5, 2, 4, 1].map((index) => ROWS[index]!.split(',').reverse().join(', '));
    const other = `\uFEFF${text(['', ...mixed, ''], ' Geoid_Height_m , longitude_deg , latitude_deg')}`.replaceAll(
      '\n',
      '\r\n',
    );
    expect(value(read(other))).toEqual(value(read(text(ROWS))));
  });

  it('takes an empty height as a node without data', () => {
    expect(value(read(text([...ROWS.slice(0, 5), '-25.5,29,']))).levels[0]?.values[5]).toBeNaN();
  });

  it('takes positions with decimals cut off, and does not add up what was cut', () => {
    const rows: string[] = [];
    for (let row = 0; row < 40; row += 1)
      for (let column = 0; column < 3; column += 1) rows.push(`${(row / 24).toFixed(4)},${(column / 24).toFixed(4)},1`);
    const level = value(read(text(rows))).levels[0]!;
    expect([level.rows, level.columns]).toEqual([40, 3]);
    expect(level.latitudeStepDeg).toBeCloseTo(1 / 24, 5);
  });

  it.each<[string, readonly string[], number]>([
    ['a latitude off the grid', [...ROWS, '-25.7,28,24'], 2],
    ['a longitude off the grid', [...ROWS, '-25.5,28.7,24'], 2],
    ['a node given twice', [...ROWS, ROWS[1]!], 8],
    ['a height that is no number', [...ROWS.slice(0, 5), '-25.5,29,x'], 7],
    ['an empty latitude', [...ROWS.slice(0, 5), ',29,24'], 7],
    ['a cell too many, as from a decimal comma', [...ROWS.slice(0, 5), '-25.5,29,24,3'], 7],
  ])('refuses %s, with the line', (_name, rows, line) => {
    const outcome = read(text(rows));
    expect(codes(outcome)).toEqual(['grid-unreadable']);
    if (line > 2) expect(outcome.problems[0]?.where?.line).toBe(line);
    else expect(outcome.problems[0]?.where?.line).toBeGreaterThan(1);
  });

  it('refuses a grid with a gap, and names the first node that is missing', () => {
    const outcome = read(text(ROWS.filter((_row, index) => index !== 4)));
    expect(outcome.problems[0]).toMatchObject({
      code: 'grid-unreadable',
      received: 'no row for latitude -25.5 longitude 28.5',
    });
  });

  it('refuses points that are no grid before it takes memory for the grid they would span', () => {
    const rows = Array.from({ length: 200 }, (_, index) => `${index * 0.001},${index * 0.001},1`);
    expect(codes(read(text(rows)))).toEqual(['grid-unreadable']);
  });

  it('refuses another header, an unnamed height and a file of one row', () => {
    expect(read(text(ROWS, 'latitude_deg,longitude_deg,height')).problems[0]?.where?.line).toBe(1);
    expect(codes(read(text(ROWS, `${HEADER},note`)))).toEqual(['grid-unreadable']);
    expect(codes(read(text([ROWS[0]!])))).toEqual(['grid-unsupported']);
    expect(read('').ok).toBe(false);
  });
});
