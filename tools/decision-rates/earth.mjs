// Geodesy of the simulation's own: the ellipsoid, local frames and the south-orientated grid that its files are written in.
// Written from textbook formulas and held against the product on data without noise (parts/geodesy.mjs).

const A = 6378137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);
const RADIAN = Math.PI / 180;

/** Geocentric metres of [latitude, longitude] in degrees and a height. */
export function toGeocentric([latitude, longitude, height]) {
  const phi = latitude * RADIAN;
  const lambda = longitude * RADIAN;
  const nu = A / Math.sqrt(1 - E2 * Math.sin(phi) ** 2);
  return [
    (nu + height) * Math.cos(phi) * Math.cos(lambda),
    (nu + height) * Math.cos(phi) * Math.sin(lambda),
    (nu * (1 - E2) + height) * Math.sin(phi),
  ];
}

/** Latitude, longitude (degrees) and height of geocentric metres, by iteration to 1e-14 rad. */
export function toGeodetic([x, y, z]) {
  const p = Math.hypot(x, y);
  let phi = Math.atan2(z, p * (1 - E2));
  for (let i = 0; i < 20; i += 1) {
    const nu = A / Math.sqrt(1 - E2 * Math.sin(phi) ** 2);
    const better = Math.atan2(z + E2 * nu * Math.sin(phi), p);
    const done = Math.abs(better - phi) < 1e-14;
    phi = better;
    if (done) break;
  }
  const sine = Math.sin(phi);
  const height = p * Math.cos(phi) + z * sine - A * Math.sqrt(1 - E2 * sine * sine);
  return [phi / RADIAN, Math.atan2(y, x) / RADIAN, height];
}

/** East, north and up axes at a place, each a geocentric unit vector. */
export function axesAt([latitude, longitude]) {
  const [sp, cp] = [Math.sin(latitude * RADIAN), Math.cos(latitude * RADIAN)];
  const [sl, cl] = [Math.sin(longitude * RADIAN), Math.cos(longitude * RADIAN)];
  return [
    [-sl, cl, 0],
    [-sp * cl, -sp * sl, cp],
    [cp * cl, cp * sl, sp],
  ];
}

export const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** A geocentric difference along the axes of a place. */
export const toLocal = (axes, difference) => axes.map((axis) => dot(axis, difference));

/** The geocentric difference of east, north and up. */
export const fromLocal = (axes, [e, n, u]) => [0, 1, 2].map((i) => axes[0][i] * e + axes[1][i] * n + axes[2][i] * u);

/** The place at `distance` metres along the azimuth (radians) from another, with the height given. */
export function placeFrom(origin, azimuth, distance, height) {
  const top = [origin[0], origin[1], 0];
  const [latitude, longitude] = toGeodetic(
    plus(toGeocentric(top), fromLocal(axesAt(top), [distance * Math.sin(azimuth), distance * Math.cos(azimuth), 0])),
  );
  return [latitude, longitude, height];
}

// Transverse Mercator by the series of Krüger in the third flattening, to its fourth power: below 0.01 mm here.
const N = F / (2 - F);
const RECTIFYING = (A / (1 + N)) * (1 + N ** 2 / 4 + N ** 4 / 64);
const ALPHA = [
  N / 2 - (2 / 3) * N ** 2 + (5 / 16) * N ** 3 + (41 / 180) * N ** 4,
  (13 / 48) * N ** 2 - (3 / 5) * N ** 3 + (557 / 1440) * N ** 4,
  (61 / 240) * N ** 3 - (103 / 140) * N ** 4,
  (49561 / 161280) * N ** 4,
];

/** Easting and northing about a central meridian (degrees), scale 1, from the equator. */
export function transverseMercator([latitude, longitude], meridian) {
  const phi = latitude * RADIAN;
  const lambda = (longitude - meridian) * RADIAN;
  const e = Math.sqrt(E2);
  const t = Math.sinh(Math.atanh(Math.sin(phi)) - e * Math.atanh(e * Math.sin(phi)));
  const xi = Math.atan2(t, Math.cos(lambda));
  const eta = Math.asinh(Math.sin(lambda) / Math.hypot(t, Math.cos(lambda)));
  let easting = eta;
  let northing = xi;
  ALPHA.forEach((alpha, i) => {
    const k = 2 * (i + 1);
    northing += alpha * Math.sin(k * xi) * Math.cosh(k * eta);
    easting += alpha * Math.cos(k * xi) * Math.sinh(k * eta);
  });
  return [RECTIFYING * easting, RECTIFYING * northing];
}
