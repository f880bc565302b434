import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { systemsAgree } from '../../core/grid/systems/systems-agree.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { loadFixesSystem, loadGeographicSystem, loadGridSystem } from '../systems/load-systems.js';
import type { Session } from '../../records/session.js';
import { systemLabel } from '../../core/grid/systems/system-label.js';
import { present } from '../../records/present.js';

/** The systems that positions of a plan are in. */
export interface PlanSystems {
  readonly grid: GridSystem | null;
  readonly fixesSystem: GeographicSystem;
}

/** The system of GeoJSON, RFC 7946 section 4. */
const GEOJSON_SYSTEM = 'EPSG:4326';

/**
 * The grid and geographic system of a plan: a projected or geographic --system, --fixes-system, those of the session; WGS 84 where
 * all inputs are GeoJSON and nothing is said.
 * Problems: config-missing without any; system-mismatch where the two do not agree; those of loading.
 */
export function loadPlanSystems(session: Session, onlyGeojson: boolean): Outcome<PlanSystems> {
  // A session without [system] names none.
  const gridText = session.system?.grid ?? '';
  const fixesText = session.system?.fixes ?? null;
  if (gridText === '' && fixesText === null) {
    if (onlyGeojson) return geographicOnly(GEOJSON_SYSTEM);
    return failure(
      errorProblem('config-missing', {
        message: 'nothing says which system the points are in',
        hint: 'give --system EPSG:n of the grid, or of latitudes and longitudes such as --system EPSG:4326, or a session file with [system]',
      }),
    );
  }
  if (gridText === '') return geographicOnly(present(fixesText, 'the system of fixes where no grid is named'));
  const definition = loadSystemDefinition(gridText);
  if (!definition.ok) return definition;
  if (definition.value.kind === 'geographic' && fixesText === null) {
    const system = buildGeographicSystem(definition.value);
    return system.ok ? success({ grid: null, fixesSystem: system.value }, system.problems) : system;
  }
  const grid = loadGridSystem(gridText);
  if (!grid.ok) return grid;
  if (fixesText === null) return success({ grid: grid.value, fixesSystem: grid.value.base }, grid.problems);
  const stated = loadFixesSystem(fixesText);
  if (!stated.ok) return stated;
  const fixes = success(stated.value.geographic);
  if (systemsAgree(fixes.value, grid.value.base))
    return success({ grid: grid.value, fixesSystem: fixes.value }, grid.problems);
  return failure(
    errorProblem('system-mismatch', {
      message: `the positions are in ${systemLabel(fixes.value)} and the grid ${grid.value.name} is on ${grid.value.base.name}`,
      received: fixes.value.code ?? fixes.value.name,
      expected: grid.value.base.code ?? grid.value.base.name,
      hint: 'a change of datum is never made silently; choose a grid on the same datum',
    }),
  );
}

function geographicOnly(text: string): Outcome<PlanSystems> {
  const system = loadGeographicSystem(text);
  return system.ok ? success({ grid: null, fixesSystem: system.value }, system.problems) : system;
}
