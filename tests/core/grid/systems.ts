import { buildGridSystem } from '../../../src/core/grid/systems/build-grid-system.js';
import { geographicBaseCode } from '../../../src/core/grid/systems/geographic-base.js';
import type { GridSystem } from '../../../src/core/grid/systems/grid-system.js';
import type { SystemDefinition } from '../../../src/core/projection/definition/system-definition.js';
import { loadSystemDefinition } from '../../../src/io/host/system-registry.js';
import type { Outcome } from '../../../src/records/outcome.js';

/** The value of an outcome; throws with its messages when it has none. */
export function valueOf<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(outcome.problems.map((problem) => problem.message).join('; '));
  return outcome.value;
}

export function definitionOf(text: string): SystemDefinition {
  return valueOf(loadSystemDefinition(text));
}

export function buildOf(text: string): Outcome<GridSystem> {
  const definition = definitionOf(text);
  const base = geographicBaseCode(definition);
  return buildGridSystem(definition, base === null ? null : definitionOf(base));
}

/** The grid of a registry code or a PROJ string, on its registry base. */
export function gridOf(text: string): GridSystem {
  return valueOf(buildOf(text));
}

/** The bare projection of a definition as arguments for `cct`: nothing that shifts a datum. */
export function projectionArguments(proj4: string): readonly string[] {
  return proj4
    .replace(/\+nadgrids=(?:"[^"]*"|\S+)/u, '')
    .split(/\s+/u)
    .filter((part) => part !== '' && !/^\+(?:towgs84=|no_defs|type=|wktext)/u.test(part));
}
