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
  Krovak_Modified: ['mod_krovak'],
  'Krovak_Modified_(North_Orientated)': ['mod_krovak'],
  Laborde_Oblique_Mercator: ['labrd'],
  Lambert_Azimuthal_Equal_Area: ['laea'],
  'Lambert_Conic_Conformal_(West_Orientated)': ['lcc'],
  Lambert_Conformal_Conic_1SP: ['lcc'],
  Lambert_Conformal_Conic_2SP: ['lcc'],
  Lambert_Conformal_Conic_2SP_Belgium: ['lcc'],
  Mercator_1SP: ['merc'],
  Mercator_2SP: ['merc'],
  New_Zealand_Map_Grid: ['nzmg'],
  Oblique_Stereographic: ['sterea'],
  Polar_Stereographic: ['stere'],
  'Polar_Stereographic_(variant_C)': ['stere'],
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
 * Systems that are refused and whose method the index cannot name: it has no text of them, or another method's name in it.
 * Found by comparing every entry with the method in the registry (tests/core/grid/registry-methods.csv). Reference: EPSG-DB.
 */
const NAMED_HERE: Readonly<Record<string, string>> = {
  'EPSG:2963': 'Bonne (South Orientated), method 9828',
  'EPSG:3295': 'Modified Azimuthal Equidistant, method 9832',
  'EPSG:3993': 'Guam Projection, method 9831',
  'EPSG:9311': 'Lambert Azimuthal Equal Area (Spherical), method 1027',
  'EPSG:22300': 'Tunisia Mining Grid, method 9816',
};

/** Entries without a text are computed where a PROJ string of these holds every parameter there is. */
const WHOLE_WITHOUT_TEXT: readonly string[] = [
  'tmerc',
  'utm',
  'merc',
  'lcc',
  'krovak',
  'mod_krovak',
  'labrd',
  'col_urban',
  'eqearth',
  'somerc',
  'omerc',
];

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
  const named = ownEntry(NAMED_HERE, code);
  if (named !== undefined) return failure(refusal(definition, named));
  const name = registryMethodName(definition);
  if (name === null || wkt === null) {
    return WHOLE_WITHOUT_TEXT.includes(projection) || parameters.flags.includes('hyperbolic')
      ? success('as-written')
      : failure(refusal(definition, `not stated, and +proj=${projection} can stand for several`));
  }
  if (ownEntry(METHODS, name)?.includes(projection) !== true)
    return failure(refusal(definition, name.replaceAll('_', ' ')));
  return success(ownEntry(FORMS, name) ?? 'as-written');
}

/** The registry's method in words, for a system that is refused; null where nothing names it. */
export function refusedMethodName(definition: SystemDefinition): string | null {
  const named = definition.code === null ? undefined : ownEntry(NAMED_HERE, definition.code);
  return named ?? registryMethodName(definition)?.replaceAll('_', ' ') ?? null;
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
