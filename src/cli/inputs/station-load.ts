import { createGeodesic } from '../../core/ellipsoid/geodesic.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { doubtOfAccepted, implausiblePair } from '../../core/grid/systems/implausible-place.js';
import { systemsAgree } from '../../core/grid/systems/systems-agree.js';
import { nearestWord } from '../../core/numeric/text/nearest-word.js';
import { failure } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { Station } from '../../records/points/point-join.js';
import type { FileDigest } from '../../records/provenance.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { JoinSetup } from '../../tasks/join/join-points.js';
import { prepareStation } from '../../tasks/bases/prepare-station.js';
import type { StationSetup } from '../../tasks/bases/prepare-station.js';
import { flagOption } from '../shell/command-spec.js';
import { loadGeoid } from '../../files/load-geoid.js';
import { loadGeographicSystem, loadGridSystem } from '../../files/load-systems.js';
import { openPoints } from '../../files/points/open-points.js';
import { collectPoints } from './collect-points.js';
import type { Rejects } from '../outputs/rejects.js';
import type { RunLog } from '../shell/run-log.js';
import { resolveSession } from './session-settings.js';
import type { BaseSettings } from '../../records/session.js';
import { StopError } from '../shell/stop.js';
import type { TableOptions } from './table-options.js';
import type { Workbench } from '../shell/workbench.js';

/** The points of a run as stations, in the order of the file. */
export interface LoadedStations {
  readonly stations: readonly Station[];
  /** The rows they were made from, in the same order. */
  readonly rows: readonly PointRow[];
  /** Title of the session; empty without one. */
  readonly title: string;
  /** Of the session, as it states them; none without one. */
  readonly bases: readonly BaseSettings[];
  /** The system as it was named. */
  readonly systemText: string;
  readonly digest: FileDigest;
  readonly setup: JoinSetup & StationSetup;
  /** Name of the file, for the place of problems. */
  readonly source: string;
  /** Points whose verdict is `rejected` and that have no position. */
  readonly withoutPlace: number;
  /** Rows left out because of errors. */
  readonly rejected: number;
  /** Errors reported so far, all of them of rows left out. */
  readonly reported: number;
  /** The station of an id, or of ID@OCCUPATION; throws a StopError where there is none or more than one. */
  readonly find: (id: string, where?: { readonly source: string; readonly line: number }) => Station;
}

/** Reads the system, the geoid and the points of a command that works with stations. Problems stop the run. */
export async function loadStations(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  rejects: Rejects,
): Promise<LoadedStations> {
  const { invocation, context, diagnostics } = bench;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved);
  const { session } = resolved;
  if (session.system === null || session.system.grid === '') {
    return bench.take(
      failure(
        errorProblem('config-missing', {
          message: 'no grid system is set',
          hint: 'give --system EPSG:n, the system of the grid coordinates',
        }),
      ),
    );
  }
  const grid = bench.take(loadGridSystem(session.system.grid));
  if (session.system.fixes !== null) {
    const fixes = bench.take(loadGeographicSystem(session.system.fixes));
    if (!systemsAgree(fixes, grid.base)) {
      bench.take(
        failure(
          errorProblem('system-mismatch', {
            message: `the session's fixes are in ${fixes.name} and the grid ${grid.name} is on ${grid.base.name}`,
            hint: 'transform the points first',
          }),
        ),
      );
    }
  }
  const { height } = session;
  let geoid: GeoidModel | null = null;
  if (height.geoid !== null) {
    const choice = {
      model: height.geoid,
      interpolation: height.interpolation,
      sigmaM: height.sigmaM,
      statedFrame: height.geoidFrame,
    };
    ({ geoid } = bench.take(await loadGeoid(choice, resolved.folder, grid.base, resolved.reading)));
  }
  log.models({ fixesSystem: grid.base, grid, geoid });
  const opened = bench.take(
    await openPoints(
      invocation.args[0] ?? '-',
      0,
      { tables, grid, needs: { position: 'any', height: 'none' } },
      context,
    ),
  );
  const setup = { grid, geoid, geodesic: createGeodesic(grid.base.ellipsoid) };
  const acceptsPosition = flagOption(invocation, 'acceptPosition');
  const made = new Map<PointRow, Station>();
  const check = (row: PointRow): readonly Problem[] => {
    if (row.verdict === 'rejected' && row.gridFirst === null && row.latitudeDeg === null) return [];
    const station = prepareStation(row, setup);
    if (!station.ok) return station.problems;
    made.set(row, station.value);
    return [...station.problems, ...doubts(row, station.value, setup, acceptsPosition)];
  };
  const collected = await collectPoints(opened, bench, tables.onError, rejects, check);
  const source = opened.source.name;
  const rows = collected.points.filter((row) => made.has(row));
  const stations = rows.flatMap((row) => made.get(row) ?? []);
  log.input(opened.source, opened.kind, stations.length, collected.rejected);
  return {
    stations,
    rows,
    setup,
    source,
    title: session.title ?? '',
    bases: session.bases,
    systemText: session.system.grid,
    digest: opened.source.digest(),
    withoutPlace: collected.points.length - rows.length,
    rejected: collected.rejected,
    reported: diagnostics.errorCount(),
    find: finder(stations, source),
  };
}

/** An error where another reading of the pair fits and this one does not, as in transform; a warning outside the area of use. */
function doubts(row: PointRow, station: Station, { grid }: JoinSetup, acceptsPosition: boolean): readonly Problem[] {
  if (grid.areaOfUse === null || isInsideArea(grid.areaOfUse, station.latitudeDeg, station.longitudeDeg)) return [];
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

function finder(stations: readonly Station[], source: string): LoadedStations['find'] {
  const byName = new Map<string, Station[]>();
  const add = (name: string, station: Station): void => {
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
    if (only === undefined) {
      // Ids one digit apart are other points: only the same letters in another case are offered.
      const near = nearestWord(id, [...byName.keys()], 0);
      throw new StopError([
        errorProblem('value-unknown-id', {
          message: `there is no point ${id} in ${source}`,
          received: id,
          ...(where !== undefined && { where }),
          hint:
            near === null
              ? 'ids are compared letter by letter'
              : `ids are compared letter by letter: did you mean ${near}?`,
        }),
      ]);
    }
    if (found.length > 1) {
      const lines = found.map((station) => station.place.line).join(', ');
      throw new StopError([
        errorProblem('value-duplicate-id', {
          message: `point ${id} occurs ${found.length} times in ${source} (lines ${lines})`,
          received: id,
          ...(where !== undefined && { where }),
          hint: 'name one occupation, as ID@OCCUPATION, or combine occupations first: reduce-points --combine',
        }),
      ]);
    }
    return only;
  };
}
