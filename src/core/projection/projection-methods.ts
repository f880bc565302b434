/** Numeric parameters of projections, by PROJ's names; `k` is read as `k_0`. */
export type ProjNumber =
  | 'lat_0'
  | 'lon_0'
  | 'lat_1'
  | 'lat_2'
  | 'lat_ts'
  | 'lonc'
  | 'alpha'
  | 'azi'
  | 'gamma'
  | 'k_0'
  | 'h_0'
  | 'x_0'
  | 'y_0'
  | 'zone';

/** Parameters that stand alone. */
export type ProjFlag = 'south' | 'no_uoff' | 'hyperbolic';

/** What is known of a projection. */
export interface ProjectionMethod {
  /** In words. */
  readonly name: string;
  /** True when scale is the same in every direction at a point. */
  readonly conformal: boolean;
  readonly required: readonly ProjNumber[];
  readonly optional: readonly ProjNumber[];
  readonly flags: readonly ProjFlag[];
}

function method(
  name: string,
  conformal: boolean,
  required: readonly ProjNumber[],
  optional: readonly ProjNumber[],
  flags: readonly ProjFlag[] = [],
): ProjectionMethod {
  return { name, conformal, required, optional: [...optional, 'x_0', 'y_0'], flags };
}

/**
 * The projections that can be computed, by PROJ's name. A projection is listed only after its
 * results agreed with PROJ's for the registry's systems that use it; docs/methods/grid-systems.md
 * has the figures, and the projections left out with the reason.
 */
export const PROJECTION_METHODS: Readonly<Record<string, ProjectionMethod>> = {
  tmerc: method('Transverse Mercator', true, ['lon_0'], ['lat_0', 'k_0']),
  utm: { name: 'Universal Transverse Mercator', conformal: true, required: ['zone'], optional: [], flags: ['south'] },
  lcc: method('Lambert Conic Conformal', true, ['lon_0', 'lat_1'], ['lat_0', 'lat_2', 'k_0']),
  merc: method('Mercator', true, ['lon_0'], ['lat_ts', 'k_0']),
  omerc: method('Hotine Oblique Mercator', true, ['lat_0', 'lonc', 'alpha'], ['gamma', 'k_0'], ['no_uoff']),
  somerc: method('Swiss Oblique Mercator', true, ['lat_0', 'lon_0'], ['k_0']),
  sterea: method('Oblique Stereographic', true, ['lat_0', 'lon_0'], ['k_0']),
  stere: method('Stereographic', true, ['lat_0', 'lon_0'], ['lat_ts', 'k_0']),
  krovak: method('Krovak', true, ['lat_0', 'lon_0', 'alpha'], ['k_0']),
  mod_krovak: method('Krovak Modified', false, ['lat_0', 'lon_0', 'alpha', 'k_0'], []),
  labrd: method('Laborde Oblique Mercator', true, ['lat_0', 'lon_0', 'azi'], ['k_0']),
  col_urban: method('Colombia Urban', false, ['lat_0', 'lon_0', 'h_0'], []),
  nzmg: method('New Zealand Map Grid', true, ['lat_0', 'lon_0'], []),
  cass: method('Cassini-Soldner', false, ['lat_0', 'lon_0'], [], ['hyperbolic']),
  aea: method('Albers Equal Area', false, ['lat_1', 'lat_2', 'lon_0'], ['lat_0']),
  laea: method('Lambert Azimuthal Equal Area', false, ['lat_0', 'lon_0'], []),
  eqc: method('Equidistant Cylindrical', false, ['lon_0'], ['lat_0', 'lat_ts']),
  cea: method('Cylindrical Equal Area', false, ['lon_0'], ['lat_ts']),
  poly: method('American Polyconic', false, ['lon_0'], ['lat_0']),
  eqearth: method('Equal Earth', false, ['lon_0'], []),
};
