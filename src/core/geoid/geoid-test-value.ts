import { formatFixed } from '../numeric/text/format-fixed.js';
import type { GeoidGrid, GridLevel } from './geoid-grid.js';

/** A height of a grid to hold another copy against: that of one node. */
export interface GeoidTestValue {
  readonly latitudeDeg: number;
  /** −180 to 180. */
  readonly longitudeDeg: number;
  readonly heightM: number;
}

/**
 * One value of a geoid grid by which it is told from another of the same name: at the node in the middle of its finest level, or the
 * next to it in the order of the file that has one. Every way of interpolation gives it.
 *
 * Given: the grid. Returned: the value; null where the level has no node with one.
 */
export function geoidTestValue({ levels }: GeoidGrid): GeoidTestValue | null {
  return levels[0] === undefined ? null : levelTestValue(levels[0]);
}

/** The same of one level, whatever its values are. */
export function levelTestValue(level: GridLevel): GeoidTestValue | null {
  const { rows, columns, values, unitM } = level;
  const count = rows * columns;
  const middle = Math.floor(rows / 2) * columns + Math.floor(columns / 2);
  for (let step = 0; step < count; step += 1) {
    const node = (middle + step) % count;
    const heightM = (values[node] as number) * unitM;
    if (Number.isNaN(heightM)) continue;
    const eastDeg = level.westDeg + (node % columns) * level.longitudeStepDeg;
    return {
      latitudeDeg: level.southDeg + Math.floor(node / columns) * level.latitudeStepDeg,
      longitudeDeg: ((((eastDeg + 180) % 360) + 360) % 360) - 180,
      heightM,
    };
  }
  return null;
}

/** The test value in words, such as `N 35.4112 m at -31.500000, 21.400000`; null where there is none. */
export function geoidTestWords(grid: GeoidGrid): string | null {
  const test = geoidTestValue(grid);
  if (test === null) return null;
  return `N ${formatFixed(test.heightM, 4)} m at ${formatFixed(test.latitudeDeg, 6)}, ${formatFixed(test.longitudeDeg, 6)}`;
}

/** Digits of a digest that people compare: half of them would do for every grid there is. */
const SHOWN_DIGITS = 12;

/** What tells a grid from another of its name, in words: the beginning of its digest and one value. */
export function geoidIdentityWords(grid: GeoidGrid): string {
  return identityWords(grid.sha256, geoidTestWords(grid));
}

/** The beginning of a digest and a test value, of any grid; without a digest it is the one built in. */
export function identityWords(sha256: string | null, test: string | null): string {
  const digest = sha256 === null ? 'built in' : `SHA-256 ${sha256.slice(0, SHOWN_DIGITS)}…`;
  return test === null ? digest : `${digest}; ${test}`;
}
