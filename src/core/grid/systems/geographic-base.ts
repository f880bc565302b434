import { success, type Outcome } from '../../../records/outcome.js';
import { buildGeographicSystem } from './build-geographic-system.js';
import type { GeographicSystem } from './geographic-system.js';
import { parseProjString } from '../../projection/definition/parse-proj-string.js';
import type { SystemDefinition } from '../../projection/definition/system-definition.js';
import { wktBase } from '../../projection/definition/wkt-base.js';

/**
 * The registry code of the geographic system underneath a projected one, to be loaded from the
 * registry; null when the definition does not name it.
 */
export function geographicBaseCode(definition: SystemDefinition): string | null {
  return definition.wkt === null ? null : (wktBase(definition.wkt)?.code ?? null);
}

/**
 * The geographic system underneath a projected one, from the projected definition alone. A
 * geographic or geocentric definition gives itself.
 *
 * Returned: the system, with the area of use of the grid for want of its own; where the registry
 * text is absent, its name is the part of the grid's name before the slash and its code is null.
 * Problems: those of `parseProjString` and `buildGeographicSystem`.
 */
export function geographicBaseOf(definition: SystemDefinition): Outcome<GeographicSystem> {
  if (definition.kind !== 'projected' || definition.proj4 === null) return buildGeographicSystem(definition);
  const parsed = parseProjString(definition.proj4);
  if (!parsed.ok) return parsed;
  const base = definition.wkt === null ? null : wktBase(definition.wkt);
  const { ellipsoid, datumShift } = parsed.value;
  return success({
    code: base?.code ?? null,
    name: base?.name ?? baseName(definition, ellipsoid.name),
    ellipsoid: base?.ellipsoid ?? ellipsoid,
    primeMeridianDeg: 0,
    datumShift,
    areaOfUse: definition.areaOfUse,
  });
}

function baseName(definition: SystemDefinition, ellipsoidName: string): string {
  const [before, after] = definition.name.split(' / ');
  return definition.code !== null && before !== undefined && after !== undefined
    ? before
    : `unnamed, on ${ellipsoidName}`;
}
