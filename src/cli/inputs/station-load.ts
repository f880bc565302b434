import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { LoadedStationSetup } from '../../files/points/load-station-setup.js';
import { loadStationSetup } from '../../files/points/load-station-setup.js';
import { openPoints } from '../../files/points/open-points.js';
import type { OpenedPoints } from '../../files/points/open-points.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import type { Session } from '../../records/session.js';
import { isUnchecked, uncheckedWarnings } from '../../core/quality/unchecked-points.js';
import { createStationMaker } from '../../tasks/bases/stations.js';
import type { Stations } from '../../tasks/bases/stations.js';
import type { Rejects } from '../outputs/rejects.js';
import { flagOption } from '../shell/command-spec.js';
import type { RunLog } from '../shell/run/run-log.js';
import type { Workbench } from '../shell/workbench.js';
import { collectPoints } from './collect-points.js';
import { knownSession } from './known-session.js';
import { resolveSession } from './session-settings.js';
import type { TableOptions } from './table-options.js';

/** The points of a run as stations, and what they were made with. */
export interface LoadedStations extends Stations {
  readonly session: Session;
  readonly setup: LoadedStationSetup;
  readonly digest: FileDigest;
  /** Name of the file, for the place of problems. */
  readonly source: string;
  /** Rows left out because of errors. */
  readonly rejected: number;
}

/** The points of a run before they are read, and what stations are made with. */
export interface OpenedStations {
  readonly session: Session;
  readonly setup: LoadedStationSetup;
  readonly opened: OpenedPoints;
}

/** Reads the system, the geoid and the points of a command that works with stations. `needsBases`: whether what the bases state counts; `onGrid` hears of the system before any point is read. Problems stop the run. */
export async function loadStations(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  rejects: Rejects,
  needsBases: boolean,
  onGrid: (grid: GridSystem) => void = () => undefined,
): Promise<LoadedStations> {
  const { session, setup, opened } = await openStations(bench, log, tables, needsBases, onGrid);
  const maker = createStationMaker(setup, flagOption(bench.invocation, 'acceptPosition'));
  const { points, rejected } = await collectPoints(opened, bench, tables.onError, rejects, maker.check);
  const made = maker.stationsOf(points);
  bench.diagnostics.report(uncheckedWarnings(points.filter(isUnchecked).map(({ pointId }) => pointId)));
  log.input(opened.source, opened.kind, made.stations.length, rejected);
  const source = opened.source.name;
  return { ...made, setup, source, rejected, session, digest: opened.source.digest() };
}

/** The same before any point is read. */
export async function openStations(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  needsBases: boolean,
  onGrid: (grid: GridSystem) => void,
): Promise<OpenedStations> {
  const { invocation, context } = bench;
  const resolved = needsBases ? await knownSession(bench, log) : bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  const setup = bench.take(await loadStationSetup(resolved));
  const { grid, geoid } = setup;
  onGrid(grid);
  log.models({ fixesSystem: grid.base, grid, geoid }, bench.diagnostics);
  const reading = { tables, grid, needs: { position: 'any', height: 'none' }, areReduced: true } as const;
  const opened = bench.take(await openPoints(invocation.args[0] ?? '-', 0, reading, context));
  return { session: resolved.session, setup, opened };
}
