import { failure, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { GeographicSystem } from './geographic-system.js';
import { parseProjString } from '../../projection/definition/parse-proj-string.js';
import type { SystemDefinition } from '../../projection/definition/system-definition.js';
import { greenwichAdvice } from '../../projection/definition/prime-meridians.js';
import { wktBase } from '../../projection/definition/wkt-base.js';

/**
 * The geographic system of a definition.
 *
 * Given: a definition of kind geographic (two- or three-dimensional) or geocentric. For the one
 * underneath a projected system use `geographicBaseOf`.
 * Returned: the system. Its datum shift, if one is written, is for information only.
 * Problems: system-mismatch for a projected definition; system-unsupported for one without a PROJ
 * string, with a prime meridian other than Greenwich or with angles in grads;
 * system-definition-invalid from the PROJ string.
 *
 * @example
 * // GRS 80, and no shift.
 * const named = { code: null, name: 'GDA2020', kind: 'geographic', proj4: '+proj=longlat +ellps=GRS80' };
 * const system = buildGeographicSystem({ ...named, wkt: null, unitName: null, areaOfUse: null, accuracyM: null }).value;
 * system.ellipsoid.semiMajorAxisM; // 6378137
 * system.datumShift; // null
 */
export function buildGeographicSystem(definition: SystemDefinition): Outcome<GeographicSystem> {
  const label = definition.code === null ? definition.name : `${definition.code} (${definition.name})`;
  if (definition.kind === 'projected') {
    return failure(
      errorProblem('system-mismatch', {
        message: `${label} is a projected system; a geographic or geocentric one is needed here`,
        received: label,
      }),
    );
  }
  if (definition.kind === 'other' || definition.proj4 === null) {
    return failure(
      errorProblem('system-unsupported', {
        message: `${label} is not a geographic or geocentric system with a definition that can be computed`,
        received: label,
      }),
    );
  }
  const parsed = parseProjString(definition.proj4);
  if (!parsed.ok) return parsed;
  const { primeMeridian, ellipsoid, datumShift } = parsed.value;
  const isGrads = definition.unitName === 'grad';
  if (primeMeridian !== null || isGrads) {
    return failure(
      errorProblem('system-unsupported', {
        message: `${label} counts its longitudes from ${primeMeridian ?? 'Greenwich'}${isGrads ? ' in grads' : ''}; here they are degrees from Greenwich`,
        received: label,
        hint: greenwichAdvice(definition, primeMeridian, isGrads),
      }),
    );
  }
  const named = definition.wkt === null ? null : wktBase(definition.wkt);
  return success({
    code: definition.code,
    name: definition.name,
    ellipsoid: named === null ? ellipsoid : { ...ellipsoid, name: named.ellipsoid.name },
    primeMeridianDeg: 0,
    datumShift,
    areaOfUse: definition.areaOfUse,
  });
}
