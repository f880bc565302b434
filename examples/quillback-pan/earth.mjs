// Geodesy of the invented day, written apart from Pegbook's own so that one can be held against the
// other: the WGS 84 ellipsoid, geocentric axes, the south-orientated Gauss conform grid Lo21 by
// Krüger's series to the fourth order, and an invented geoid.
import { RADIANS_PER_DEGREE, atan, atan2, atanh, cos, cosh, sin, sinh } from './exact-arithmetic.mjs';

const A = 6378137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
const CENTRAL_MERIDIAN_DEG = 21;

export function geocentricOf({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) {
  const axes = axesAt(latitudeDeg, longitudeDeg);
  const normal = A / Math.sqrt(1 - E2 * axes.sinLat * axes.sinLat);
  const out = (normal + ellipsoidalHeightM) * axes.cosLat;
  return { x: out * axes.cosLon, y: out * axes.sinLon, z: (normal * (1 - E2) + ellipsoidalHeightM) * axes.sinLat };
}

/** By fixed point: each round gains more than two digits. */
export function geodeticOf({ x, y, z }) {
  const out = Math.sqrt(x * x + y * y);
  let tan = z / (out * (1 - E2));
  let normal = A;
  for (let round = 0; round < 9; round += 1) {
    const sinLat = tan / Math.sqrt(1 + tan * tan);
    normal = A / Math.sqrt(1 - E2 * sinLat * sinLat);
    tan = (z + E2 * normal * sinLat) / out;
  }
  return {
    latitudeDeg: atan(tan) / RADIANS_PER_DEGREE,
    longitudeDeg: atan2(y, x) / RADIANS_PER_DEGREE,
    ellipsoidalHeightM: out * Math.sqrt(1 + tan * tan) - normal,
  };
}

/** Directions of east, north and up at a place. */
export function axesAt(latitudeDeg, longitudeDeg) {
  const phi = latitudeDeg * RADIANS_PER_DEGREE;
  const lambda = longitudeDeg * RADIANS_PER_DEGREE;
  return { sinLat: sin(phi), cosLat: cos(phi), sinLon: sin(lambda), cosLon: cos(lambda) };
}

/** A geocentric point moved by metres east, north and up. */
export function moved(point, axes, east, north, up) {
  const out = up * axes.cosLat - north * axes.sinLat;
  return {
    x: point.x + out * axes.cosLon - east * axes.sinLon,
    y: point.y + out * axes.sinLon + east * axes.cosLon,
    z: point.z + north * axes.cosLat + up * axes.sinLat,
  };
}

/** The place some kilometres away along the ellipsoid, good enough to lay out a survey. */
export function placeFrom(origin, km, azimuthDeg, ellipsoidalHeightM) {
  const { sinLat, cosLat } = axesAt(origin.latitudeDeg, 0);
  const w = Math.sqrt(1 - E2 * sinLat * sinLat);
  const northM = km * 1000 * cos(azimuthDeg * RADIANS_PER_DEGREE);
  const eastM = km * 1000 * sin(azimuthDeg * RADIANS_PER_DEGREE);
  return {
    latitudeDeg: origin.latitudeDeg + ((northM / A) * w * w * w) / (1 - E2) / RADIANS_PER_DEGREE,
    longitudeDeg: origin.longitudeDeg + ((eastM / A) * w) / cosLat / RADIANS_PER_DEGREE,
    ellipsoidalHeightM,
  };
}

const N = F / (2 - F);
const RECTIFYING = (A / (1 + N)) * (1 + (N * N) / 4 + (N * N * N * N) / 64);
const KRUEGER = [
  N / 2 - (2 * N * N) / 3 + (5 * N * N * N) / 16 + (41 * N * N * N * N) / 180,
  (13 * N * N) / 48 - (3 * N * N * N) / 5 + (557 * N * N * N * N) / 1440,
  (61 * N * N * N) / 240 - (103 * N * N * N * N) / 140,
  (49561 * N * N * N * N) / 161280,
];

/** Westing and southing of Lo21 or of another zone, metres. Reference: Krüger's series, see docs/references.md, KARNEY-2011. */
export function gridOf({ latitudeDeg, longitudeDeg }, centralMeridianDeg = CENTRAL_MERIDIAN_DEG) {
  const { sinLat } = axesAt(latitudeDeg, 0);
  const lambda = (longitudeDeg - centralMeridianDeg) * RADIANS_PER_DEGREE;
  const e = Math.sqrt(E2);
  const t = sinh(atanh(sinLat) - e * atanh(e * sinLat));
  const xi = atan2(t, cos(lambda));
  const eta = atanh(sin(lambda) / Math.sqrt(1 + t * t));
  let east = eta;
  let north = xi;
  KRUEGER.forEach((alpha, index) => {
    const order = 2 * (index + 1);
    east += alpha * cos(order * xi) * sinh(order * eta);
    north += alpha * sin(order * xi) * cosh(order * eta);
  });
  return { westingM: -RECTIFYING * east, southingM: -RECTIFYING * north };
}

/** The invented geoid: a tilted surface with a long swell. It is no one's geoid and fit for nothing else. */
export function inventedGeoidM(latitudeDeg, longitudeDeg) {
  const south = latitudeDeg + 31.5;
  const east = longitudeDeg - 21.4;
  return 27.6 + 1.9 * south + 0.8 * east + 0.5 * sin(1.6 * south) * cos(1.3 * east);
}

/** Where the grid file of the invented geoid has its nodes. */
export const GEOID_NODES = { southDeg: -32.25, westDeg: 20.5, stepDeg: 0.05, rows: 31, columns: 31 };
