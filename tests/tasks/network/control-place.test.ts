import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../src/files/systems/load-systems.js';
import { DEFAULT_DIALECT } from '../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../src/io/csv/csv-read.js';
import { readNetworkControl } from '../../../src/io/tables/network/network-control-read.js';
import { controlOf } from '../../../src/tasks/network/input/control-input.js';
import { stdinSource, value } from '../../io/support.js';

const grid = value(loadGridSystem('EPSG:2049'));
const systems = { ellipsoid: grid.base.ellipsoid, grid, geoid: null, geoidSigmaM: null };

/** What is said of the first row of a control file; empty where it is taken. */
async function saidOf(text: string): Promise<string> {
  const table = value(await readCsv(await stdinSource(text), DEFAULT_DIALECT));
  const [row] = value(await readNetworkControl(table, 0, {}, ['westing_m', 'southing_m']));
  const read = row === undefined ? null : controlOf(row, systems, null);
  return read === null || read.ok ? '' : (read.problems[0]?.message ?? '');
}

const pair = { first: 0, second: 0 };
grid.forward(-31.5, 21.4, pair);
/** A control point with its pair moved so far along the first axis, and both written to so many decimals. */
const row = (movedM: number, lengthDecimals: number, angleDecimals: number): string =>
  `point_id,westing_m,southing_m,latitude_deg,longitude_deg,ellipsoidal_height_m,held\nA,${(pair.first + movedM).toFixed(lengthDecimals)},${pair.second.toFixed(lengthDecimals)},${(-31.5).toFixed(angleDecimals)},${(21.4).toFixed(angleDecimals)},1041.88,fixed\n`;

describe('a control point of a network with two places', () => {
  it('is held to the level of every other command, beside what its digits leave unsaid', async () => {
    expect(await saidOf(row(0.0045, 4, 9))).toBe('');
    expect(await saidOf(row(0.0065, 4, 9))).toMatch(/^A states its place more than once, 0\.00[67] m apart$/u);
    // Seven decimals of a degree leave 8 mm unsaid in each direction.
    expect(await saidOf(row(0.0065, 4, 7))).toBe('');
    expect(await saidOf(row(0.03, 4, 7))).toMatch(/0\.030 m apart$/u);
  });

  it('is compared in height too', async () => {
    const text = (h: string): string =>
      `point_id,x_m,y_m,z_m,ellipsoidal_height_m,held\nA,6378137.000,0.000,0.000,${h},fixed\n`;
    expect(await saidOf(text('0.005'))).toBe('');
    expect(await saidOf(text('0.009'))).toBe('A states its place more than once, 0.009 m apart in height');
    expect(await saidOf(text('0.0'))).toBe('');
    expect(await saidOf(text('0.1'))).toBe('A states its place more than once, 0.100 m apart in height');
  });
});
