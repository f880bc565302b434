import { createGeodesic } from '../../core/ellipsoid/geodesic.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { systemsAgree } from '../../core/grid/systems/systems-agree.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { StationSetup } from '../../tasks/bases/prepare-station.js';
import { loadGeoid } from '../grids/load-geoid.js';
import { loadFixesSystem, loadGridSystem } from '../systems/load-systems.js';
import type { SessionInPlace } from '../sessions/session-in-place.js';

/** What stations are made and joined with. */
export interface LoadedStationSetup extends StationSetup {
  readonly geodesic: Geodesic;
  /** The system as it was named. */
  readonly systemText: string;
}

/**
 * Loads the grid and the geoid of a session for work with stations.
 * Problems: config-missing without a grid; system-mismatch where the fixes are on another datum; those of loading.
 *
 * @example
 * const session = await readSessionFile('session.toml');
 * const setup = await loadStationSetup(session.value);
 * setup.value.grid.code; // 'EPSG:2049'
 */
export async function loadStationSetup({
  session,
  folder,
  reading,
}: SessionInPlace): Promise<Outcome<LoadedStationSetup>> {
  const { system, height } = session;
  if (system === null || system.grid === '')
    return failure(
      errorProblem('config-missing', {
        message: 'no grid system is set',
        hint: 'give --system EPSG:n, the system of the grid coordinates',
      }),
    );
  const loaded = loadGridSystem(system.grid);
  if (!loaded.ok) return loaded;
  const grid = loaded.value;
  if (system.fixes !== null) {
    const stated = loadFixesSystem(system.fixes);
    if (!stated.ok) return stated;
    const { geographic: fixes } = stated.value;
    if (!systemsAgree(fixes, grid.base))
      return failure(
        errorProblem('system-mismatch', {
          message: `the session's fixes are in ${fixes.name} and the grid ${grid.name} is on ${grid.base.name}`,
          hint: 'transform the points first',
        }),
      );
  }
  const setup = { grid, geodesic: createGeodesic(grid.base.ellipsoid), systemText: system.grid };
  if (height.geoid === null) return success({ ...setup, geoid: null }, loaded.problems);
  const { geoid: model, interpolation, sigmaM, geoidFrame: statedFrame } = height;
  const geoid = await loadGeoid({ model, interpolation, sigmaM, statedFrame }, folder, grid.base, reading);
  return geoid.ok ? success({ ...setup, geoid: geoid.value.geoid }, [...loaded.problems, ...geoid.problems]) : geoid;
}
