import { buildGeographicSystem } from '../core/grid/build-geographic-system.js';
import { buildGridSystem } from '../core/grid/build-grid-system.js';
import { geographicBaseCode } from '../core/grid/geographic-base.js';
import type { GeographicSystem } from '../core/grid/geographic-system.js';
import type { GridSystem } from '../core/grid/grid-system.js';
import { loadSystemDefinition } from '../io/system-registry.js';
import { failure } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';

/** The projected system of a code or PROJ string, with the geographic system underneath it. */
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
  return buildGridSystem(definition.value, base?.value ?? null);
}

/** The geographic system of a code or PROJ string. */
export function loadGeographicSystem(text: string): Outcome<GeographicSystem> {
  const definition = loadSystemDefinition(text);
  return definition.ok ? buildGeographicSystem(definition.value) : definition;
}
