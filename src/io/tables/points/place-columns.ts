/** Columns of a position in degrees. */
export const GEOGRAPHIC: readonly ['latitude_deg', 'longitude_deg'] = ['latitude_deg', 'longitude_deg'];
/** Columns of a geocentric position, and of one about an origin. */
export const GEOCENTRIC: readonly [string, string, string] = ['x_m', 'y_m', 'z_m'];
export const TOPOCENTRIC: readonly [string, string, string] = ['east_m', 'north_m', 'up_m'];
/** Columns of the heights that may stand beside a position. */
export const HEIGHTS: readonly ['ellipsoidal_height_m', 'orthometric_height_m'] = [
  'ellipsoidal_height_m',
  'orthometric_height_m',
];
