/** Three kinds of height never share a name: h (ellipsoidal), H (orthometric), N (geoid), with h = H + N. */
export type HeightKind = 'ellipsoidal' | 'orthometric';

/** What a fix's position belongs to: antenna phase centre, antenna reference point, or pole tip. */
export type ReferencePoint = 'apc' | 'arp' | 'tip';

/** Geodetic position: degrees (north and east positive) and metres above the ellipsoid. */
export interface GeodeticPoint {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number;
}

/** Geocentric position, metres (EPSG method 9602 axes: X to 0° longitude, Z to the north pole). */
export interface GeocentricPoint {
  readonly xM: number;
  readonly yM: number;
  readonly zM: number;
}

/** A vector in a local frame on the ellipsoid normal, metres: east, north, up. */
export interface LocalVector {
  readonly eastM: number;
  readonly northM: number;
  readonly upM: number;
}

/**
 * Covariance of a local vector, m²: the six different entries of the symmetric 3×3 matrix in
 * east, north, up.
 */
export interface LocalCovariance {
  readonly eeM2: number;
  readonly enM2: number;
  readonly euM2: number;
  readonly nnM2: number;
  readonly nuM2: number;
  readonly uuM2: number;
}
