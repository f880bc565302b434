import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import { degreesToRadians } from '../numeric/angle-units.js';
import type { GridParameter } from '../grid/systems/grid-system.js';
import { present } from '../../records/present.js';
import { createCassini } from './methods/cassini.js';
import { createColombiaUrban } from './methods/colombia-urban.js';
import { createEquidistantCylindrical } from './methods/equidistant-cylindrical.js';
import { createLaborde } from './methods/laborde.js';
import { createLambertConic } from './methods/lambert-conic.js';
import { createMapProjection } from './map-projection.js';
import { createNumericFactors } from '../grid/factors/numeric-factors.js';
import { createModifiedKrovak } from './methods/modified-krovak.js';
import { createPolarStereographic } from './methods/polar-stereographic.js';
import type { ProjectionEngine } from './projection-engine.js';
import { PROJECTION_METHODS, type ProjNumber } from './projection-methods.js';
import type { ProjParameters } from './definition/projection-parameters.js';
import type { MethodForm } from './definition/registry-method.js';
import { sameEllipsoid } from '../grid/systems/systems-agree.js';
import { createTransverseMercator } from './methods/transverse-mercator.js';

/**
 * The projection of a grid: closed forms for transverse Mercator, Lambert's conformal cone, the
 * stereographic map of a pole and the equidistant cylinder of the ellipsoid, our own series for
 * Cassini-Soldner (each says why), the library for the rest.
 *
 * Given: checked parameters; the form that `methodForm` found; the base's ellipsoid. Returned: the projection; null when the
 * parameters, each in its range, do not go together.
 */
export function projectionFor(
  parameters: ProjParameters,
  form: MethodForm,
  ground: Ellipsoid,
): ProjectionEngine | null {
  const engine = engineFor(parameters, form, ground);
  const { lat_0, lat_1, lat_ts, lon_0, lonc } = resolvedNumbers(parameters);
  // A projection that cannot project its own origin cannot project anything.
  const latitudeRad = degreesToRadians(lat_0 ?? lat_1 ?? lat_ts ?? 0);
  const origin = { eastM: 0, northM: 0 };
  return engine?.forward(latitudeRad, degreesToRadians((lon_0 ?? lonc) as number), origin) === true ? engine : null;
}

/** The turn of the Belgian form of Lambert's cone: 29.2985 seconds of arc. IOGP-373-7-2, method 9803. */
const BELGIAN_TURN_DEG = 29.2985 / 3600;

function engineFor(parameters: ProjParameters, form: MethodForm, ground: Ellipsoid): ProjectionEngine | null {
  const { projection, ellipsoid } = parameters;
  if (projection === 'cass') return createCassini(parameters, ground);
  const engine = closedForm(parameters, form);
  if (engine === undefined) return createMapProjection(parameters, ground);
  if (engine === null || sameEllipsoid(ellipsoid, ground)) return engine;
  return { ...engine, forwardWithFactors: createNumericFactors(engine.forward, ground) };
}

/** The closed form on the ellipsoid projected; null where the parameters do not go together, undefined where there is none. */
function closedForm(parameters: ProjParameters, form: MethodForm): ProjectionEngine | null | undefined {
  const { projection, ellipsoid } = parameters;
  const numbers = resolvedNumbers(parameters);
  const radians = (name: ProjNumber): number | null =>
    numbers[name] === undefined ? null : degreesToRadians(numbers[name]);
  const common = {
    // PROJ: a parameter that is not given is 0.
    latitudeOfOriginRad: radians('lat_0') ?? 0,
    // PROJ: a parameter that is not given is 0.
    longitudeOfOriginRad: radians('lon_0') ?? 0,
    trueScaleLatitudeRad: radians('lat_ts'),
    scaleFactor: numbers.k_0 ?? 1,
    // PROJ: a parameter that is not given is 0.
    falseEastingM: numbers.x_0 ?? 0,
    // PROJ: a parameter that is not given is 0.
    falseNorthingM: numbers.y_0 ?? 0,
  };
  if (projection === 'tmerc' || projection === 'utm') {
    return createTransverseMercator(ellipsoid, { ...common, centralMeridianRad: common.longitudeOfOriginRad });
  }
  if (projection === 'lcc') {
    // PROJ: a parameter that is not given is 0.
    const firstParallelRad = radians('lat_1') ?? 0;
    const secondParallelRad = radians('lat_2');
    const latitudeOfOriginRad = radians('lat_0') ?? (secondParallelRad === null ? firstParallelRad : 0);
    const turnRad = form === 'lcc-belgium' ? degreesToRadians(BELGIAN_TURN_DEG) : 0;
    return createLambertConic(ellipsoid, {
      ...common,
      latitudeOfOriginRad,
      firstParallelRad,
      secondParallelRad,
      turnRad,
    });
  }
  // PROJ: a parameter that is not given is 0.
  if (projection === 'stere' && Math.abs(numbers.lat_0 ?? 0) === 90) {
    // PROJ: a parameter that is not given is 0.
    return createPolarStereographic(ellipsoid, { ...common, pole: (numbers.lat_0 ?? 0) > 0 ? 1 : -1 });
  }
  if (projection === 'mod_krovak') {
    return createModifiedKrovak(ellipsoid, {
      latitudeOfCentreRad: common.latitudeOfOriginRad,
      longitudeOfOriginRad: common.longitudeOfOriginRad,
      axisColatitudeRad: present(radians('alpha'), 'alpha'),
      scaleFactor: common.scaleFactor,
      // PROJ adds the false origin of this one to westing and southing, as the registry does.
      falseWestingM: common.falseEastingM,
      falseSouthingM: common.falseNorthingM,
    });
  }
  if (projection === 'labrd') {
    return createLaborde(ellipsoid, {
      ...common,
      latitudeOfCentreRad: common.latitudeOfOriginRad,
      longitudeOfCentreRad: common.longitudeOfOriginRad,
      azimuthRad: present(radians('azi'), 'azi'),
    });
  }
  if (projection === 'col_urban')
    return createColombiaUrban(ellipsoid, { ...common, heightOfOriginM: present(numbers.h_0, 'h_0') });
  if (form === 'eqc-ellipsoidal') {
    return createEquidistantCylindrical(ellipsoid, {
      ...common,
      // The parallel of true scale is the equator where none is given.
      trueScaleLatitudeRad: common.trueScaleLatitudeRad ?? 0,
    });
  }
  return undefined;
}

/** The parameters with those that a zone of the universal transverse Mercator grid stands for. */
function resolvedNumbers(parameters: ProjParameters): Readonly<Partial<Record<ProjNumber, number>>> {
  const { numbers, flags } = parameters;
  if (parameters.projection !== 'utm') return { ...numbers };
  return {
    lat_0: 0,
    lon_0: 6 * (numbers.zone as number) - 183,
    k_0: 0.9996,
    x_0: 500000,
    y_0: flags.includes('south') ? 10000000 : 0,
  };
}

const WORDS: Readonly<Record<string, string>> = {
  lat_0: 'latitude of origin',
  lon_0: 'longitude of origin',
  lat_1: 'first standard parallel',
  lat_2: 'second standard parallel',
  lat_ts: 'latitude of true scale',
  lonc: 'longitude of centre',
  alpha: 'azimuth of the central line',
  azi: 'azimuth of the initial line',
  gamma: 'rectified grid angle',
  k_0: 'scale factor at origin',
  h_0: 'height of the plane of projection',
  x_0: 'false easting',
  y_0: 'false northing',
};

/** The parameters of a projection for people to read, those of a zone written out. */
export function gridParameters(parameters: ProjParameters): readonly GridParameter[] {
  const method = PROJECTION_METHODS[parameters.projection];
  const defaults: Record<string, number> = { x_0: 0, y_0: 0 };
  // Where scale is true on other parallels it is another at the origin.
  const { lat_2, lat_ts } = parameters.numbers;
  if (method?.optional.includes('k_0') === true && lat_2 === undefined && lat_ts === undefined) defaults['k_0'] = 1;
  if (method?.optional.includes('lat_0') === true && parameters.projection !== 'lcc') defaults['lat_0'] = 0;
  const isWest = parameters.axes === 'wnu' || parameters.axes === 'nwu';
  const numbers: Record<string, number> = { ...defaults, ...resolvedNumbers(parameters) };
  return Object.entries(WORDS).flatMap(([key, name]) => {
    const value = numbers[key];
    if (value === undefined) return [];
    const unit = key === 'k_0' ? '' : ['x_0', 'y_0', 'h_0'].includes(key) ? 'm' : 'deg';
    // Where westings are counted the origin has one, which is the false easting of the other sign.
    if (key === 'x_0' && isWest) return [{ name: 'false westing', value: 0 - value, unit } as const];
    return [{ name, value, unit } as const];
  });
}
