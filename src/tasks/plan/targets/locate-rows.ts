import { ellipsoidalHeightM } from '../../../core/geoid/orthometric-height.js';
import { geoidProblem } from '../../../core/geoid/geoid-problem.js';
import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { implausiblePair } from '../../../core/grid/systems/implausible-place.js';
import type { PlanPoint } from '../../../core/planning/plan-point.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem, locateProblem } from '../../../records/problem.js';
import type { Location, Problem } from '../../../records/problem.js';
import { placeDoubt } from '../../bases/place-doubt.js';
import type { PlaceSystems } from '../../bases/place-doubt.js';
import { entryAt } from '../../../records/present.js';

/** What rows are located with. */
export interface RowSystems extends PlaceSystems {
  readonly geoid: GeoidModel | null;
  /** Names of the inputs, by `sourceIndex`. */
  readonly sources: readonly string[];
}

/** What is kept of a row beside its place. */
type KeptCells = Pick<PointRow, 'occupation' | 'toleranceHorizontalM' | 'toleranceVerticalM' | 'passThrough' | 'place'>;

/** A row with its place; rows without one, and repeats of a point, are left out. */
export interface LocatedRow extends PlanPoint {
  readonly row: KeptCells;
}

/** Locates rows as they are read, so that nobody has to hold them whole. */
export interface RowLocator {
  readonly add: (row: PointRow) => void;
  /** All of them; to be asked for after the last. */
  readonly end: () => Outcome<readonly LocatedRow[]>;
}

/**
 * Places of rows: the geographic position where a row has one, else from the grid pair; the ellipsoidal height, else
 * the orthometric one raised by the geoid, else none.
 *
 * Given: rows; systems. Returned: located rows, in order. Of a point with several occupations the first stays; a rejected row without
 * a position is left out. Problems: value-duplicate-id for a second row of a point that is no further occupation; those of grid and geoid,
 * and of `placeDoubt`, whose warnings come with the rows.
 */
export function locateRows(rows: readonly PointRow[], systems: RowSystems): Outcome<readonly LocatedRow[]> {
  const locator = createRowLocator(systems);
  for (const row of rows) locator.add(row);
  return locator.end();
}

/** The same for rows that come one by one. */
export function createRowLocator(systems: RowSystems): RowLocator {
  const located: LocatedRow[] = [];
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const seen = new Map<string, KeptCells>();
  const held = { latitudeDeg: NaN, longitudeDeg: NaN };
  return {
    add(row) {
      const before = seen.get(row.pointId);
      if (before !== undefined) {
        if (row.occupation === '' || row.occupation === before.occupation)
          problems.push(locateProblem(repeatProblem(row.pointId, before), whereOf(row, systems)));
        return;
      }
      const place = placeOf(row, systems.grid, held);
      if (place === null) return;
      if ('code' in place) {
        problems.push(locateProblem(place, whereOf(row, systems)));
        return;
      }
      const height = heightOf(row, place.latitudeDeg, place.longitudeDeg, systems.geoid);
      if (height !== null && typeof height !== 'number') {
        problems.push(locateProblem(height, whereOf(row, systems)));
        return;
      }
      const doubt = placeDoubt(row.pointId, place, pairOf(row), systems);
      if (doubt !== null)
        (doubt.severity === 'error' ? problems : warnings).push(locateProblem(doubt, whereOf(row, systems)));
      const { pointId: id, occupation, toleranceHorizontalM, toleranceVerticalM, passThrough, place: line } = row;
      const kept = { occupation, toleranceHorizontalM, toleranceVerticalM, passThrough, place: line };
      seen.set(id, kept);
      const { latitudeDeg, longitudeDeg } = place;
      located.push({ id, latitudeDeg, longitudeDeg, ellipsoidalHeightM: height, row: kept });
    },
    end: () => (problems.length > 0 ? failureOf([...problems, ...warnings]) : success(located, warnings)),
  };
}

function whereOf({ place }: PointRow, { sources }: RowSystems): Location {
  return { source: entryAt(sources, place.sourceIndex), line: place.line };
}

function repeatProblem(pointId: string, before: KeptCells): Problem {
  return errorProblem('value-duplicate-id', {
    message: `point ${pointId} stands in line ${String(before.place.line)} already`,
    received: pointId,
    hint: 'a plan needs each point once',
  });
}

function placeOf(
  row: PointRow,
  grid: GridSystem | null,
  held: { latitudeDeg: number; longitudeDeg: number },
): { readonly latitudeDeg: number; readonly longitudeDeg: number } | Problem | null {
  const pair = grid === null ? null : pairOf(row);
  if (pair === null || grid === null) {
    return row.latitudeDeg === null || row.longitudeDeg === null
      ? null
      : { latitudeDeg: row.latitudeDeg, longitudeDeg: row.longitudeDeg };
  }
  const status = grid.inverse(pair.first, pair.second, held);
  if (status !== 'ok')
    return implausiblePair(grid, pair.first, pair.second, null, '--system') ?? gridProblem(status, pair, grid);
  return { latitudeDeg: held.latitudeDeg, longitudeDeg: held.longitudeDeg };
}

/** The grid pair a row is placed by, degrees beside it or not (they were compared when the row was read); null where it has none. */
function pairOf(row: PointRow): { readonly first: number; readonly second: number } | null {
  return row.gridFirst === null || row.gridSecond === null ? null : { first: row.gridFirst, second: row.gridSecond };
}

function heightOf(
  row: PointRow,
  latitudeDeg: number,
  longitudeDeg: number,
  geoid: GeoidModel | null,
): number | Problem | null {
  if (row.ellipsoidalHeightM !== null) return row.ellipsoidalHeightM;
  if (row.orthometricHeightM === null) return null;
  if (row.geoidHeightM !== null) return ellipsoidalHeightM(row.orthometricHeightM, row.geoidHeightM);
  if (geoid === null) return null;
  const geoidHeightM = geoid.heightAt(latitudeDeg, longitudeDeg);
  if (geoidHeightM !== null) return ellipsoidalHeightM(row.orthometricHeightM, geoidHeightM);
  return geoidProblem(
    geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside',
    latitudeDeg,
    longitudeDeg,
    geoid.grid,
  );
}
