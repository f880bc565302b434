import { buildGeographicSystem } from '../../core/grid/systems/build-geographic-system.js';
import { buildGridSystem } from '../../core/grid/systems/build-grid-system.js';
import { geographicBaseCode } from '../../core/grid/systems/geographic-base.js';
import { wktBase } from '../../core/projection/definition/wkt-base.js';
import { sameEllipsoid } from '../../core/grid/systems/systems-agree.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';

/**
 * The projected system of a code or PROJ string, with the geographic system underneath it.
 *
 * Given: `EPSG:n` or a PROJ string. Returned: its projection and axes. Problems: system-unknown; system-unsupported for what is
 * no projected system or has a method that is not supported.
 *
 * @example
 * // PROJ, cs2cs EPSG:4148 EPSG:2053
 * const grid = loadGridSystem('EPSG:2053').value;
 * const pair = { first: 0, second: 0 };
 * grid.forward(-25.732028333333, 28.282633055556, pair);
 * pair; // { first: 71984.4797, second: 2847342.7352 }
 */
export function loadGridSystem(text: string): Outcome<GridSystem> {
  const definition = loadSystemDefinition(text);
  if (!definition.ok) return definition;
  if (definition.value.kind !== 'projected') {
    return failure(
      errorProblem('system-unsupported', {
        message: `${definition.value.code ?? text} ${definition.value.name} is not a projected system`,
        received: text,
        expected: 'a projected system, such as EPSG:2049',
        hint: 'grid coordinates need a map projection; give a geographic system with --fixes-system',
      }),
    );
  }
  const code = geographicBaseCode(definition.value);
  const base = code === null ? null : loadSystemDefinition(code);
  if (base !== null && !base.ok) return base;
  const built = buildGridSystem(definition.value, base?.value ?? null);
  if (!built.ok || definition.value.code !== null || definition.value.wkt === null) return built;
  return contradicted(definition.value.wkt, built.value) ?? built;
}

/** A text names a system and writes its ellipsoid too: which of the two it means cannot be known where they differ. */
function contradicted(wkt: string, grid: GridSystem): Outcome<never> | null {
  const written = wktBase(wkt)?.ellipsoid ?? grid.base.ellipsoid;
  if (sameEllipsoid(written, grid.base.ellipsoid)) return null;
  return failure(
    errorProblem('system-definition-invalid', {
      message: `${grid.name}: its ellipsoid ${written.name} is not that of ${grid.base.code ?? grid.base.name}, ${grid.base.ellipsoid.name}`,
      received: written.name,
      expected: grid.base.ellipsoid.name,
      hint: 'correct the ellipsoid, or the code of the geographic system in the text',
    }),
  );
}

/** The frame of the fixes, with the grid that their coordinates are in where a projected system was named. */
export interface FixesSystem {
  readonly geographic: GeographicSystem;
  readonly grid: GridSystem | null;
}

/** The system that a session names for its fixes: geographic, or projected with its base. Problems: those of the system. */
export function loadFixesSystem(text: string): Outcome<FixesSystem> {
  const definition = loadSystemDefinition(text);
  if (!definition.ok) return definition;
  if (definition.value.kind !== 'projected') {
    const geographic = loadGeographicSystem(text);
    return geographic.ok ? success({ geographic: geographic.value, grid: null }, geographic.problems) : geographic;
  }
  const grid = loadGridSystem(text);
  return grid.ok ? success({ geographic: grid.value.base, grid: grid.value }, grid.problems) : grid;
}

/**
 * The geographic system of a code or PROJ string.
 *
 * Given: `EPSG:n` or a PROJ string. Returned: its ellipsoid and datum. Problems: system-unknown, system-unsupported.
 *
 * @example
 * loadGeographicSystem('EPSG:4148').value.ellipsoid.name; // 'WGS 84'
 */
export function loadGeographicSystem(text: string): Outcome<GeographicSystem> {
  const definition = loadSystemDefinition(text);
  return definition.ok ? buildGeographicSystem(definition.value) : definition;
}
