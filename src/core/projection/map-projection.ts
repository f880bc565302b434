import proj4 from 'proj4';
import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import { createNumericFactors } from '../grid/factors/numeric-factors.js';
import { refineInverse } from './methods/refine-inverse.js';
import type { AnglePair, PlanePair, ProjectionEngine } from './projection-engine.js';
import type { ProjParameters } from './definition/projection-parameters.js';

/** Parameters the library would otherwise take as undefined, and compute NaN from. */
const ALWAYS_GIVEN = ['lat_0', 'lon_0'] as const;
/** The library takes a latitude of zero for one not given; this one is 0.01 micrometre from it. */
const ALMOST_ZERO_DEG = 1e-13;

/**
 * A map projection computed by the projection library, with its hazards kept inside this file.
 *
 * Given: checked parameters; the ellipsoid that lengths and directions on the ground belong to (the
 * base's), for the factors. Returned: the projection, or null when the library cannot set it up.
 * Notes: 1. The definition passed on is rebuilt from the checked numbers, never the user's text.
 * 2. Only the bare projection is called: no datum shift, prime meridian, unit, axis or height of
 * the library's takes part. 3. Its results are checked to be finite; what it throws (some of it is
 * text, not an Error) means "outside". 4. Factors come from differences, see `createNumericFactors`.
 * 5. Some of its inverses stop early (2 mm short in one projection), so each is brought to agree
 * with the forward formula, which is exact.
 * Reference: PROJ-DOC, the page of each projection.
 */
export function createMapProjection(parameters: ProjParameters, ground: Ellipsoid): ProjectionEngine | null {
  if (parameters.projection === 'nzmg' && !isNewZealands(parameters)) return null;
  const library = setUp(definitionText(parameters));
  if (library === null) return null;
  // PROJ: a parameter that is not given is 0.
  const falseEastingM = parameters.numbers.x_0 ?? 0;
  // PROJ: a parameter that is not given is 0.
  const falseNorthingM = parameters.numbers.y_0 ?? 0;
  // The library fills in and returns the record it is given; one is enough for all calls.
  const point = { x: 0, y: 0 };
  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    point.x = longitudeRad;
    point.y = latitudeRad;
    const result = call(library.forward, point);
    if (result === null) return false;
    out.eastM = result.x + falseEastingM;
    out.northM = result.y + falseNorthingM;
    return true;
  };
  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    point.x = eastM - falseEastingM;
    point.y = northM - falseNorthingM;
    const result = call(library.inverse, point);
    if (result === null || !(Math.abs(result.y) <= Math.PI / 2 + 1e-12)) return false;
    out.latitudeRad = result.y;
    out.longitudeRad = result.x;
    refineInverse(forward, eastM, northM, out);
    return true;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ground) };
}

interface LibraryPoint {
  x: number;
  y: number;
}
type LibraryFunction = (point: LibraryPoint) => LibraryPoint | null | undefined;

function setUp(text: string): { readonly forward: LibraryFunction; readonly inverse: LibraryFunction } | null {
  try {
    const projection = new proj4.Proj(text);
    return {
      forward: (point) => projection.forward(point),
      inverse: (point) => projection.inverse(point),
    };
  } catch {
    return null;
  }
}

function call(projection: LibraryFunction, point: LibraryPoint): LibraryPoint | null {
  try {
    const result = projection(point);
    return result && Number.isFinite(result.x) && Number.isFinite(result.y) ? result : null;
  } catch {
    return null;
  }
}

function definitionText(parameters: ProjParameters): string {
  const { projection, ellipsoid, numbers, flags } = parameters;
  const parts = [`+proj=${projection}`];
  const given: Record<string, number | undefined> = { ...numbers };
  for (const name of ALWAYS_GIVEN) {
    if (name === 'lat_0' && projection === 'lcc' && numbers.lat_2 === undefined) given[name] ??= numbers.lat_1;
    given[name] ??= 0;
  }
  // One projection ignores the false origin, so it is added outside.
  given['x_0'] = 0;
  given['y_0'] = 0;
  for (const name of ['lat_1', 'lat_2']) if (given[name] === 0) given[name] = ALMOST_ZERO_DEG;
  for (const [name, value] of Object.entries(given)) parts.push(`+${name}=${String(value)}`);
  for (const flag of flags) parts.push(`+${flag}`);
  const { semiMajorAxisM, flattening } = ellipsoid;
  parts.push(`+a=${String(semiMajorAxisM)}`);
  // One of its projections reads the inverse flattening and not the polar radius.
  parts.push(flattening === 0 ? `+b=${String(semiMajorAxisM)}` : `+rf=${String(1 / flattening)}`);
  return parts.join(' ');
}

/** The New Zealand grid is a fixed set of coefficients; other parameters would be ignored or wrong. */
function isNewZealands({ numbers, ellipsoid }: ProjParameters): boolean {
  return numbers.lat_0 === -41 && numbers.lon_0 === 173 && ellipsoid.semiMajorAxisM === 6378388;
}
