/** Degrees into radians. */
export const RAD: number = Math.PI / 180;
const A = 6378137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);

export type Triple = readonly [number, number, number];

/** East, north and up at a place, as geocentric directions. */
export function axesAt(latitudeDeg: number, longitudeDeg: number): { east: Triple; north: Triple; up: Triple } {
  const [sinPhi, cosPhi] = [Math.sin(latitudeDeg * RAD), Math.cos(latitudeDeg * RAD)];
  const [sinLambda, cosLambda] = [Math.sin(longitudeDeg * RAD), Math.cos(longitudeDeg * RAD)];
  return {
    east: [-sinLambda, cosLambda, 0],
    north: [-sinPhi * cosLambda, -sinPhi * sinLambda, cosPhi],
    up: [cosPhi * cosLambda, cosPhi * sinLambda, sinPhi],
  };
}

export function dot(a: Triple, b: Triple): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/** A place as X, Y, Z in metres. */
export function geocentric(latitudeDeg: number, longitudeDeg: number, heightM: number): Triple {
  const { up } = axesAt(latitudeDeg, longitudeDeg);
  const nu = A / Math.sqrt(1 - E2 * up[2] ** 2);
  return [(nu + heightM) * up[0], (nu + heightM) * up[1], (nu * (1 - E2) + heightM) * up[2]];
}

/** Latitude and longitude of X, Y, Z, by going round the equation of the latitude until it stands still. */
export function degreesOf([x, y, z]: Triple): readonly [number, number] {
  const p = Math.hypot(x, y);
  let phi = Math.atan2(z, p * (1 - E2));
  for (let round = 0; round < 20; round += 1) {
    const nu = A / Math.sqrt(1 - E2 * Math.sin(phi) ** 2);
    phi = Math.atan2(z + E2 * nu * Math.sin(phi), p);
  }
  return [phi / RAD, Math.atan2(y, x) / RAD];
}

/** The lengths on the ellipsoid of a degree of latitude and of one of longitude, in metres. */
export function degreeLengthsM(latitudeDeg: number): readonly [number, number] {
  const w = 1 - E2 * Math.sin(latitudeDeg * RAD) ** 2;
  return [((A * (1 - E2)) / w ** 1.5) * RAD, (A / Math.sqrt(w)) * Math.cos(latitudeDeg * RAD) * RAD];
}
