import { failure, success, type Outcome } from '../../../records/outcome.js';
import { errorProblem, type Problem } from '../../../records/problem.js';
import { ownEntry } from '../../numeric/own-entry.js';
import type { ProjParameters } from './projection-parameters.js';
import type { SystemDefinition } from './system-definition.js';

/** Which formulas a definition asks for: those of its PROJ string, or of the registry's own method. */
export type MethodForm = 'as-written' | 'lcc-belgium' | 'eqc-ellipsoidal';

/** Methods of the registry by the name its text gives, with the PROJ projections that compute them. */
const METHODS: Readonly<Record<string, readonly string[]>> = {
  Albers_Conic_Equal_Area: ['aea'],
  Cassini_Soldner: ['cass'],
  Cylindrical_Equal_Area: ['cea'],
  Equirectangular: ['eqc'],
  Hotine_Oblique_Mercator: ['omerc'],
  Hotine_Oblique_Mercator_Azimuth_Center: ['omerc', 'somerc'],
  Krovak: ['krovak'],
  Lambert_Azimuthal_Equal_Area: ['laea'],
  Lambert_Conformal_Conic_1SP: ['lcc'],
  Lambert_Conformal_Conic_2SP: ['lcc'],
  Lambert_Conformal_Conic_2SP_Belgium: ['lcc'],
  Mercator_1SP: ['merc'],
  Mercator_2SP: ['merc'],
  New_Zealand_Map_Grid: ['nzmg'],
  Oblique_Stereographic: ['sterea'],
  Polar_Stereographic: ['stere'],
  Polyconic: ['poly'],
  Transverse_Mercator: ['tmerc', 'utm'],
  Transverse_Mercator_South_Orientated: ['tmerc'],
};

/** Where the registry text leaves out a method's parameters or its formulas, ours stand in. */
const FORMS: Readonly<Record<string, MethodForm>> = {
  Lambert_Conformal_Conic_2SP_Belgium: 'lcc-belgium',
  Equirectangular: 'eqc-ellipsoidal',
};

/**
 * Systems whose method the old form of the text cannot name: it writes another's name for them. Found
 * by comparing every entry with the method in the registry (tests/core/grid/registry-methods.csv).
 */
const MISNAMED: Readonly<Record<string, string>> = {
  'EPSG:9311': 'Lambert Azimuthal Equal Area (Spherical), method 1027',
};

/** Entries without a text are computed where a PROJ string of these holds every parameter there is. */
const WHOLE_WITHOUT_TEXT: readonly string[] = ['tmerc', 'utm', 'merc', 'lcc', 'krovak', 'eqearth', 'somerc', 'omerc'];

/**
 * The formulas of a projected definition, decided by the registry's method and not by the PROJ string
 * beside it, which cannot hold every parameter.
 *
 * Given: the definition and its parsed PROJ string. Returned: the form to compute.
 * Problems: system-unsupported, naming the method, where it is not computed here.
 */
export function methodForm(definition: SystemDefinition, parameters: ProjParameters): Outcome<MethodForm> {
  const { code, wkt } = definition;
  const { projection } = parameters;
  if (code === null)
    return projection === 'eqc' && parameters.ellipsoid.flattening !== 0
      ? failure(ambiguousForm(definition))
      : success('as-written');
  const misnamed = ownEntry(MISNAMED, code);
  if (misnamed !== undefined) return failure(refusal(definition, misnamed));
  const name = registryMethodName(definition);
  if (name === null || wkt === null) {
    return WHOLE_WITHOUT_TEXT.includes(projection)
      ? success('as-written')
      : failure(refusal(definition, `not stated, and +proj=${projection} can stand for several`));
  }
  if (ownEntry(METHODS, name)?.includes(projection) !== true)
    return failure(refusal(definition, name.replaceAll('_', ' ')));
  return success(ownEntry(FORMS, name) ?? 'as-written');
}

/** The registry's name of the method, with underscores; null where the index holds no text. */
export function registryMethodName(definition: SystemDefinition): string | null {
  return definition.wkt === null ? null : (/PROJECTION\["([^"]+)"/u.exec(definition.wkt)?.[1] ?? null);
}

function refusal(definition: SystemDefinition, method: string): Problem {
  const label = definition.code === null ? definition.name : `${definition.code} (${definition.name})`;
  return errorProblem('system-unsupported', {
    message: `${label}: the registry's method is ${method}; it is not computed here`,
    received: label,
    hint: 'its PROJ string would give other coordinates; use another system of the same datum',
  });
}

function ambiguousForm(definition: SystemDefinition): Problem {
  return errorProblem('system-unsupported', {
    message:
      '+proj=eqc on an ellipsoid is computed in two ways, up to 25 km apart: on the sphere of its semi-major axis, or along the meridian',
    received: definition.name,
    hint: 'for the sphere give +R in place of the ellipsoid; for the ellipsoid use EPSG:4087',
  });
}
