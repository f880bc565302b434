import { failure, failureOf, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem, type Problem } from '../../../records/problem.js';
import { buildGeographicSystem } from './build-geographic-system.js';
import { geographicBaseOf } from './geographic-base.js';
import { gridAxes } from './grid-axes.js';
import { gridConversions } from './grid-conversions.js';
import type { GridSystem } from './grid-system.js';
import { parseProjString } from '../../projection/definition/parse-proj-string.js';
import { countedFromGreenwich, datumFromGreenwich } from '../../projection/definition/prime-meridians.js';
import { gridParameters, projectionFor } from '../../projection/projection-for.js';
import { PROJECTION_METHODS } from '../../projection/projection-methods.js';
import { methodForm, refusedMethodName, type MethodForm } from '../../projection/definition/registry-method.js';
import { sameEllipsoid } from './systems-agree.js';
import type { SystemDefinition } from '../../projection/definition/system-definition.js';

/**
 * A grid from its definition.
 *
 * Given: a projected definition; the definition of its geographic base (the registry entry that
 * `geographicBaseCode` names), or null to take what the projected definition says of it.
 * Returned: the grid. Conversions are the projection alone: no change of datum takes part.
 * Problems: system-mismatch when the definition is not projected; system-unsupported, with the
 * reason, when it has no PROJ string, a registry method that is not computed, a prime meridian other than Greenwich, or a projection, unit
 * or axes that cannot be computed; system-definition-invalid from the PROJ string.
 *
 * @example
 * // Flinders Peak in zone 55, worked example of the GDA2020 manual.
 * const proj4 = '+proj=utm +zone=55 +south +ellps=GRS80 +units=m';
 * const named = { code: null, name: 'MGA zone 55', kind: 'projected', proj4, wkt: null, unitName: null };
 * const grid = buildGridSystem({ ...named, areaOfUse: null, accuracyM: null }, null).value;
 * const pair = { first: 0, second: 0 };
 * grid.forward(-37.9510334167, 144.4248678889, pair);
 * pair; // { first: 273741.297, second: 5796489.777 }
 */
export function buildGridSystem(
  definition: SystemDefinition,
  baseDefinition: SystemDefinition | null,
): Outcome<GridSystem> {
  const label = definition.code === null ? definition.name : `${definition.code} (${definition.name})`;
  if (definition.kind !== 'projected') return failure(notProjected(definition, label));
  if (definition.proj4 === null) return failure(withoutString(definition, label));
  const parsed = parseProjString(definition.proj4);
  if (!parsed.ok)
    return failureOf(parsed.problems.map((problem) => ({ ...problem, message: `${label}: ${problem.message}` })));
  const parameters = countedFromGreenwich(parsed.value);
  if (parameters === null) {
    return failure(
      unsupported(
        `${label} counts its longitudes from ${String(parsed.value.primeMeridian)}, a meridian that is not known here`,
        label,
        'use a system of the same datum that counts from Greenwich',
      ),
    );
  }
  const form = methodForm(definition, parameters);
  if (!form.ok) return form;
  const isElsewhere = parsed.value.primeMeridian !== null;
  const based =
    baseDefinition === null || isElsewhere ? geographicBaseOf(definition) : buildGeographicSystem(baseDefinition);
  // The registry's own system counts from its meridian; what is under the grid here is its datum, counted from Greenwich.
  const base =
    based.ok && isElsewhere
      ? success({ ...based.value, code: null, name: datumFromGreenwich(based.value.name) })
      : based;
  if (!base.ok) return base;
  const engine = projectionFor(parameters, form.value, base.value.ellipsoid);
  const method = PROJECTION_METHODS[parameters.projection];
  if (engine === null || method === undefined) {
    return failure(unsupported(`${label}: the parameters of ${parameters.projection} do not go together`, label));
  }
  const axes = gridAxes(parameters.axes, parameters.unit);
  const southOrientated = axes[1].direction === 'south';
  const conformal = method.conformal && sameEllipsoid(parameters.ellipsoid, base.value.ellipsoid);
  const { areaOfUse } = definition;
  return success({
    code: definition.code,
    name: definition.name,
    definition,
    base: base.value,
    axes,
    southOrientated,
    areaOfUse,
    projection: {
      key: parameters.projection,
      method: `${method.name}${FORM_WORDS[form.value]}${ORIENTATION_WORDS[axes[0].direction][axes[1].direction]}${parameters.flags.includes('hyperbolic') ? ' (hyperbolic)' : ''}`,
      conformal,
      parameters: gridParameters(parameters),
      ellipsoid: parameters.ellipsoid,
    },
    ...gridConversions({ engine, axes, conformal, areaOfUse }),
  });
}

/** By the directions of the first and the second axis. */
const ORIENTATION_WORDS = {
  east: { north: '', south: '' },
  west: { north: ' (west orientated)', south: ' (south orientated)' },
} as const;

const FORM_WORDS: Readonly<Record<MethodForm, string>> = {
  'as-written': '',
  'lcc-belgium': ' (2SP Belgium)',
  'eqc-ellipsoidal': ' (of the ellipsoid)',
};

function withoutString(definition: SystemDefinition, label: string): Problem {
  const name = refusedMethodName(definition);
  const method = name === null ? '' : `; its method is ${name}`;
  return unsupported(`${label} has no definition that can be computed${method}`, label);
}

function notProjected(definition: SystemDefinition, label: string): Problem {
  const grid = definition.wkt === null ? null : /,AUTHORITY\["EPSG","(\d+)"\]\],VERT_CS\[/u.exec(definition.wkt);
  return errorProblem('system-mismatch', {
    message: `${label} is not a projected system; grid coordinates need one`,
    received: label,
    ...(grid === null ? {} : { hint: `its horizontal part is EPSG:${grid[1] as string}` }),
  });
}

function unsupported(message: string, received: string, hint?: string): Problem {
  return errorProblem('system-unsupported', { message, received, ...(hint === undefined ? {} : { hint }) });
}
