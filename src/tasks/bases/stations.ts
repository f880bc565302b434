import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { doubtOfAccepted, implausiblePair } from '../../core/grid/systems/implausible-place.js';
import { nearestWord } from '../../core/numeric/text/nearest-word.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { EllipsoidStation, Station } from '../../records/points/point-join.js';
import type { PointRow } from '../../records/points/point-row.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Location, Problem } from '../../records/problem.js';
import { prepareStation } from './prepare-station.js';
import type { StationSetup } from './prepare-station.js';

const NONE: readonly Problem[] = Object.freeze([]);

/** Points of one file as stations, in its order. */
export interface Stations {
  readonly stations: readonly Station[];
  /** The rows they were made from, in the same order. */
  readonly rows: readonly PointRow[];
  /** Points whose verdict is `rejected` and that have no position. */
  readonly withoutPlace: number;
}

/** Makes stations of rows one by one, so that a bad one is known while its file is read. */
export interface StationMaker {
  /** What is wrong with a row, or doubtful; a row without an error becomes a station. */
  readonly check: (row: PointRow) => readonly Problem[];
  /** The stations of these rows, which were all checked. */
  readonly stationsOf: (rows: readonly PointRow[]) => Stations;
}

/**
 * A maker of stations. Given: the grid and geoid; whether a place is taken that looks wrong.
 * Problems of a row: those of `prepareStation`; coordinate-implausible and the like where another reading of its pair fits, as in
 * transform. Warning: coordinate-outside-area.
 */
export function createStationMaker(setup: StationSetup, acceptsPosition: boolean): StationMaker {
  const made = new Map<PointRow, Station>();
  return {
    check(row) {
      const { station, problems } = checkedStation(row, setup, acceptsPosition);
      if (station !== null) made.set(row, station);
      return problems;
    },
    stationsOf(points) {
      const rows = points.filter((row) => made.has(row));
      return {
        rows,
        stations: rows.flatMap((row) => made.get(row) ?? []),
        withoutPlace: points.length - rows.length,
      };
    },
  };
}

/** The station of one row, null where it is rejected and has no place or is in error; problems as those of `createStationMaker`. */
export function checkedStation(
  row: PointRow,
  setup: StationSetup,
  acceptsPosition: boolean,
): { readonly station: Station | null; readonly problems: readonly Problem[] } {
  if (row.verdict === 'rejected' && row.gridFirst === null && row.latitudeDeg === null)
    return { station: null, problems: NONE };
  const station = prepareStation(row, setup);
  if (!station.ok) return { station: null, problems: station.problems };
  const doubted = doubts(row, station.value, setup.grid, acceptsPosition);
  const isPlain = doubted.length === 0 && station.problems.length === 0;
  return { station: station.value, problems: isPlain ? NONE : [...station.problems, ...doubted] };
}

/** An error where another reading of the pair fits and this one does not; a warning outside the area of use. */
function doubts(row: PointRow, station: Station, grid: GridSystem, acceptsPosition: boolean): readonly Problem[] {
  if (grid.areaOfUse === null || isInsideArea(grid.areaOfUse, station.latitudeDeg, station.longitudeDeg)) return NONE;
  const reading =
    row.gridFirst === null ? null : implausiblePair(grid, station.gridFirst, station.gridSecond, station, '--system');
  if (reading !== null) return [doubtOfAccepted(reading, acceptsPosition)];
  return [
    warningProblem('coordinate-outside-area', {
      message: `${row.pointId} is outside the area of use of ${grid.name}: ${grid.areaOfUse.description}`,
      hint: 'check the zone and the axes',
    }),
  ];
}

/** The station of an id, or of ID@OCCUPATION, asked for at a place of a file. Problems: value-unknown-id, value-duplicate-id. */
export type FindStation<S = Station> = (id: string, where?: Location) => Outcome<S>;

/** A finder among stations. Given: the stations; the name of their file. */
export function stationFinder<S extends EllipsoidStation>(stations: readonly S[], source: string): FindStation<S> {
  const byName = new Map<string, S[]>();
  const add = (name: string, station: S): void => {
    const found = byName.get(name);
    if (found === undefined) byName.set(name, [station]);
    else found.push(station);
  };
  for (const station of stations) add(station.pointId, station);
  for (const station of stations)
    if (station.occupation !== '') add(`${station.pointId}@${station.occupation}`, station);
  return (id, where) => {
    const found = byName.get(id) ?? [];
    const [only] = found;
    const asked = { received: id, ...(where !== undefined && { where }) };
    if (only === undefined) {
      // Ids one digit apart are other points: only the same letters in another case are offered.
      const near = nearestWord(id, [...byName.keys()], 0);
      return failure(
        errorProblem('value-unknown-id', {
          message: `there is no point ${id} in ${source}`,
          ...asked,
          hint:
            near === null
              ? 'ids are compared letter by letter'
              : `ids are compared letter by letter: did you mean ${near}?`,
        }),
      );
    }
    if (found.length === 1) return success(only);
    const lines = found.map((station) => station.place.line).join(', ');
    return failure(
      errorProblem('value-duplicate-id', {
        message: `point ${id} occurs ${String(found.length)} times in ${source} (lines ${lines})`,
        ...asked,
        hint: 'name one occupation, as ID@OCCUPATION, or combine occupations first: reduce-points --combine',
      }),
    );
  };
}
