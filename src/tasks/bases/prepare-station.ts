import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GeographicPair, GridPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { Station } from '../../records/points/point-join.js';
import { errorProblem } from '../../records/problem.js';
import { bothHeights } from './ellipsoid-station.js';

/** What stations are prepared with. */
export interface StationSetup {
  readonly grid: GridSystem;
  /** Null: heights are only those of the file. */
  readonly geoid: GeoidModel | null;
}

/**
 * A station from a row of a points file.
 *
 * The grid pair counts where the row has one: what stands beside it was compared when the row was read (`positionsProblem`).
 * With a geoid the height of the other kind is filled in. Problems: value-missing for a row without a
 * place; those of the projection and the geoid.
 */
export function prepareStation(row: PointRow, setup: StationSetup): Outcome<Station> {
  const { grid, geoid } = setup;
  const position = positionOf(row, grid);
  if (!position.ok) return position;
  const { latitudeDeg, longitudeDeg, gridFirst, gridSecond } = position.value;
  const heights = bothHeights(row, { latitudeDeg, longitudeDeg }, geoid);
  if (!heights.ok) return heights;
  const station: Station = {
    pointId: row.pointId,
    occupation: row.occupation,
    latitudeDeg,
    longitudeDeg,
    gridFirst,
    gridSecond,
    ellipsoidalHeightM: heights.value.ellipsoidalHeightM,
    orthometricHeightM: heights.value.orthometricHeightM,
    place: row.place,
  };
  return success(station);
}

type Position = Pick<Station, 'latitudeDeg' | 'longitudeDeg' | 'gridFirst' | 'gridSecond'>;

function positionOf(row: PointRow, grid: GridSystem): Outcome<Position> {
  const { gridFirst, gridSecond, latitudeDeg, longitudeDeg } = row;
  const given = latitudeDeg === null || longitudeDeg === null ? null : { latitudeDeg, longitudeDeg };
  const projected: GridPair = { first: NaN, second: NaN };
  if (gridFirst === null || gridSecond === null) {
    if (given !== null) {
      const status = grid.forward(given.latitudeDeg, given.longitudeDeg, projected);
      return status === 'ok'
        ? success({ ...given, gridFirst: projected.first, gridSecond: projected.second })
        : failure(gridProblem(status, given, grid));
    }
    return failure(
      errorProblem('value-missing', {
        message: `${row.pointId} has no position`,
        hint: 'a point whose verdict is rejected has none',
      }),
    );
  }
  const out: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
  const status = grid.inverse(gridFirst, gridSecond, out);
  if (status !== 'ok') return failure(gridProblem(status, { first: gridFirst, second: gridSecond }, grid));
  return success({ latitudeDeg: out.latitudeDeg, longitudeDeg: out.longitudeDeg, gridFirst, gridSecond });
}
