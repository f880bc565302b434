import { DEGREES_PER_RADIAN, RADIANS_PER_DEGREE, normaliseAzimuthDeg } from '../numeric/angle-units.js';
import type { Ellipsoid } from './ellipsoid.js';
import { shortSeries } from './short-series.js';

/** Latitudes and longitudes may differ by so much: lines of up to 300 km or so. */
export const MOST_DEG = 2;
/** The longitude on the sphere has settled when it changes by no more than this share of itself. */
export const SETTLED = 1e-14;
/** Beyond so many rounds the line is left to the solver for any line. */
export const MOST_ROUNDS = 8;

/** A geodesic and its azimuths, 0…360, at point 1 towards point 2 and at point 2 towards point 1. */
export interface ShortLine {
  distanceM: number;
  azimuthDeg: number;
  reverseAzimuthDeg: number;
}

/**
 * Finds the geodesic between two positions near each other and writes it into `line`.
 * Given: latitudes −90…90, longitudes any finite number, degrees.
 * Returned: false where they differ by more than 2° in latitude or longitude; `line` is then as it was. Without `hasAzimuths` its
 * azimuths stay as they were: they take a sixth of the time.
 */
export type ShortGeodesic = (
  latitude1Deg: number,
  longitude1Deg: number,
  latitude2Deg: number,
  longitude2Deg: number,
  line: ShortLine,
  hasAzimuths?: boolean,
) => boolean;

/**
 * The inverse problem for lines as long as a base may be away, several times faster than a solver for any line.
 *
 * With β the reduced latitudes and ω the difference of longitude on the auxiliary sphere, a spherical triangle gives σ, α₀
 * and α; then λ = ω − f sin α₀ I₃(σ) gives ω anew, until it settles. The term with f is very nearly proportional to ω, so
 * that λ is divided by one less their ratio, and two or three rounds do. The series are taken to ε³ for the longitude,
 * where f stands before them, and to ε⁴ for the distance: what is left out is below 1 nm.
 * Accuracy: 5 nm, with the solver for any line held against it in a property test.
 * Reference: KARNEY-2013, equations 5 to 25, for the triangle and the series I₁, I₃; VINCENTY-1975 for the rounds.
 * Coefficients from memory, confirmed by the solver for any line.
 */
export function createShortGeodesic(ellipsoid: Ellipsoid): ShortGeodesic {
  const f = ellipsoid.flattening;
  const semiMinorAxisM = ellipsoid.semiMajorAxisM * (1 - f);
  const { secondEccentricitySquared, a3, c31, c32, c33, isSuited } = shortSeries(ellipsoid);

  return (latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg, line, hasAzimuths = true) => {
    const differenceDeg = longitudeBetweenDeg(longitude1Deg, longitude2Deg);
    if (!isSuited || Math.abs(latitude2Deg - latitude1Deg) > MOST_DEG || Math.abs(differenceDeg) > MOST_DEG)
      return false;
    const lambda = differenceDeg * RADIANS_PER_DEGREE;
    const y1 = (1 - f) * Math.sin(latitude1Deg * RADIANS_PER_DEGREE);
    const x1 = Math.cos(latitude1Deg * RADIANS_PER_DEGREE);
    const r1 = Math.sqrt(x1 * x1 + y1 * y1);
    const sinBeta1 = y1 / r1;
    const cosBeta1 = x1 / r1;
    const y2 = (1 - f) * Math.sin(latitude2Deg * RADIANS_PER_DEGREE);
    const x2 = Math.cos(latitude2Deg * RADIANS_PER_DEGREE);
    const r2 = Math.sqrt(x2 * x2 + y2 * y2);
    const sinBeta2 = y2 / r2;
    const cosBeta2 = x2 / r2;
    // sin (β₂ − β₁), without the loss of digits that the difference of two products has.
    const sinBetweenBetas = ((1 - f) * Math.sin((latitude2Deg - latitude1Deg) * RADIANS_PER_DEGREE)) / (r1 * r2);

    // As for a line along the parallel in the middle.
    const sinMiddle = (sinBeta1 + sinBeta2) / 2;
    let omega = lambda / ((1 - f) * Math.sqrt(1 + secondEccentricitySquared * sinMiddle * sinMiddle));
    for (let round = 0; round < MOST_ROUNDS; round += 1) {
      const sinOmega = Math.sin(omega);
      const cosOmega = Math.cos(omega);
      const versineOmega = (sinOmega * sinOmega) / (1 + cosOmega);
      const east1 = cosBeta2 * sinOmega;
      const north1 = sinBetweenBetas + sinBeta1 * cosBeta2 * versineOmega;
      const sinSigma = Math.sqrt(east1 * east1 + north1 * north1);
      const cosSigma = sinBeta1 * sinBeta2 + cosBeta1 * cosBeta2 * cosOmega;
      const sigma = shortArcsine(sinSigma);
      const sinAlpha0 = sinSigma === 0 ? 0 : (cosBeta1 * east1) / sinSigma;
      const cosSquared = 1 - sinAlpha0 * sinAlpha0;
      const kSquared = secondEccentricitySquared * cosSquared;
      const root = 1 + Math.sqrt(1 + kSquared);
      const e = kSquared / (2 * root + kSquared);

      // sin 2lσ₂ − sin 2lσ₁ = 2 cos 2lσₘ sin lσ for l = 1…4, each from the two before.
      const cos1 = cosSquared > 0 ? cosSigma - (2 * sinBeta1 * sinBeta2) / cosSquared : 0;
      const cos2 = 2 * cos1 * cos1 - 1;
      const cos3 = 2 * cos1 * cos2 - cos1;
      const cos4 = 2 * cos1 * cos3 - cos2;
      const sin2 = 2 * cosSigma * sinSigma;
      const sin3 = 2 * cosSigma * sin2 - sinSigma;
      const sin4 = 2 * cosSigma * sin3 - sin2;
      const term1 = 2 * cos1 * sinSigma;
      const term2 = 2 * cos2 * sin2;
      const term3 = 2 * cos3 * sin3;
      const term4 = 2 * cos4 * sin4;

      const sum3 =
        sigma +
        e * (term1 * (c31[0] + e * (c31[1] + e * c31[2])) + e * (term2 * (c32[0] + e * c32[1]) + e * term3 * c33));
      const factor3 = 1 + e * (a3[0] + e * (a3[1] + e * a3[2]));
      const settled = omega === 0 ? 0 : lambda / (1 - (f * sinAlpha0 * factor3 * sum3) / omega);
      if (Math.abs(settled - omega) > SETTLED * Math.abs(omega)) {
        omega = settled;
        continue;
      }

      const e2 = e * e;
      const sum1 =
        sigma +
        e *
          (term1 * (-1 / 2 + (e2 * 3) / 16) +
            e * (term2 * (-1 / 16 + e2 / 32) - e * (term3 / 48 + (e * term4 * 5) / 512)));
      line.distanceM = ((semiMinorAxisM * (1 + e2 * (1 / 4 + e2 / 64))) / (1 - e)) * sum1;
      if (!hasAzimuths) return true;
      line.azimuthDeg = normaliseAzimuthDeg(Math.atan2(east1, north1) * DEGREES_PER_RADIAN);
      line.reverseAzimuthDeg = normaliseAzimuthDeg(
        Math.atan2(-cosBeta1 * sinOmega, sinBeta2 * cosBeta1 * versineOmega - sinBetweenBetas) * DEGREES_PER_RADIAN,
      );
      return true;
    }
    return false;
  };
}

/** arcsin x for x from 0 to 0.05, which no line that is taken exceeds; as good as a double can hold. */
export function shortArcsine(x: number): number {
  const y = x * x;
  return x * (1 + y * (1 / 6 + y * (3 / 40 + y * (15 / 336 + y * (105 / 3456 + (y * 945) / 42240)))));
}

/** From one longitude to another the short way, where both are −180…180; exact for places close together. */
export function longitudeBetweenDeg(fromDeg: number, toDeg: number): number {
  const differenceDeg = toDeg - fromDeg;
  if (differenceDeg > 180) return toDeg - 180 - (fromDeg + 180);
  if (differenceDeg < -180) return toDeg + 180 - (fromDeg - 180);
  return differenceDeg;
}
