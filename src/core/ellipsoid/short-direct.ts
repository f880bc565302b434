import {
  DEGREES_PER_RADIAN,
  RADIANS_PER_DEGREE,
  normaliseAzimuthDeg,
  normaliseLongitudeDeg,
} from '../numeric/angle-units.js';
import type { Ellipsoid } from './ellipsoid.js';
import { distanceSum, longitudeSum, revertedSum, shortSeries } from './short-series.js';

/** The longest line that is taken, metres. */
const MOST_M = 300e3;
/** Squares of what is smaller have lost their digits. */
const LEAST_HEIGHT = 1e-150;

/** Where a geodesic ends, degrees, and its azimuth there, onwards, 0…360. Longitude −180…180. */
export interface ShortEnd {
  latitudeDeg: number;
  longitudeDeg: number;
  azimuthDeg: number;
}

/**
 * Finds the end of a line and writes it into `end`.
 * Given: latitude −90…90, longitude and azimuth any finite number, degrees; distance, metres, may be negative.
 * Returned: false where the line is longer than 300 km; `end` is then as it was.
 */
export type ShortDirect = (
  latitudeDeg: number,
  longitudeDeg: number,
  azimuthDeg: number,
  distanceM: number,
  end: ShortEnd,
) => boolean;

/**
 * The direct problem for lines as long as a base may be away, in about half the time of a solver for any line (docs/methods/geodesic.md).
 *
 * With β the reduced latitude, a spherical triangle gives α₀, σ₁ and ω₁. The distance from the node is τ on a scale on which
 * it grows evenly, s = b A₁ τ with τ = σ + Σ C₁ₗ sin 2lσ; its reversion σ = τ + Σ C′₁ₗ sin 2lτ gives σ₂, and the triangle
 * there β₂, ω₂ and α₂. Longitude: λ = ω − f sin α₀ I₃(σ). Series as in `createShortGeodesic`.
 * Accuracy: 5 nm, with the solver for any line held against it in a property test. Inverse: `createShortGeodesic`.
 * Reference: KARNEY-2013, equations 5 to 25; coefficients from memory, confirmed by the solver for any line.
 */
export function createShortDirect(ellipsoid: Ellipsoid): ShortDirect {
  const f = ellipsoid.flattening;
  const semiMinorAxisM = ellipsoid.semiMajorAxisM * (1 - f);
  const series = shortSeries(ellipsoid);
  const { secondEccentricitySquared, a3, isSuited } = series;

  return (latitudeDeg, longitudeDeg, azimuthDeg, distanceM, end) => {
    if (!isSuited || Math.abs(distanceM) > MOST_M) return false;
    // Exactly along a meridian or the equator, not nearly.
    const sinAlpha1 = azimuthDeg % 180 === 0 ? 0 : Math.sin(azimuthDeg * RADIANS_PER_DEGREE);
    const cosAlpha1 = (azimuthDeg - 90) % 180 === 0 ? 0 : Math.cos(azimuthDeg * RADIANS_PER_DEGREE);
    const y1 = (1 - f) * Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
    const x1 = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
    const r1 = Math.sqrt(x1 * x1 + y1 * y1);
    const sinBeta1 = y1 / r1;
    const cosBeta1 = x1 / r1;
    const sinAlpha0 = sinAlpha1 * cosBeta1;
    const aside = sinAlpha1 * sinBeta1;
    const cosAlpha0 = Math.sqrt(cosAlpha1 * cosAlpha1 + aside * aside);
    const height = Math.sqrt(sinBeta1 * sinBeta1 + cosAlpha1 * cosAlpha1 * cosBeta1 * cosBeta1);
    // On the equator along it, where every point is a node, the line begins at one.
    const isAtNode = height < LEAST_HEIGHT;
    const sinSigma1 = isAtNode ? 0 : sinBeta1 / height;
    const cosSigma1 = isAtNode ? 1 : (cosAlpha1 * cosBeta1) / height;
    const sigma1 = Math.atan2(sinSigma1, cosSigma1);
    const kSquared = secondEccentricitySquared * cosAlpha0 * cosAlpha0;
    const root = 1 + Math.sqrt(1 + kSquared);
    const e = kSquared / (2 * root + kSquared);
    const e2 = e * e;

    const tau1 = sigma1 + distanceSum(e, sigma1);
    const tau = (distanceM * (1 - e)) / (semiMinorAxisM * (1 + e2 * (1 / 4 + e2 / 64)));
    // The difference, not the ends: what is rounded then is small.
    const sigma = tau + revertedSum(e, tau1 + tau) - revertedSum(e, tau1);
    const sinSigma = Math.sin(sigma);
    const cosSigma = Math.cos(sigma);
    const sinSigma2 = sinSigma1 * cosSigma + cosSigma1 * sinSigma;
    const cosSigma2 = cosSigma1 * cosSigma - sinSigma1 * sinSigma;
    // ω₂ − ω₁ in one, so that a line past the meridian behind is no special case.
    const omega = Math.atan2(
      sinAlpha0 * sinSigma,
      cosSigma2 * cosSigma1 + sinAlpha0 * sinAlpha0 * sinSigma2 * sinSigma1,
    );
    const factor3 = 1 + e * (a3[0] + e * (a3[1] + e * a3[2]));
    const lambda =
      omega -
      f * sinAlpha0 * factor3 * (sigma + longitudeSum(series, e, sigma1 + sigma) - longitudeSum(series, e, sigma1));
    const level = cosAlpha0 * cosSigma2;
    const cosBeta2 = Math.sqrt(level * level + sinAlpha0 * sinAlpha0);
    end.latitudeDeg = Math.atan2(cosAlpha0 * sinSigma2, (1 - f) * cosBeta2) * DEGREES_PER_RADIAN;
    end.longitudeDeg = normaliseLongitudeDeg(longitudeDeg + lambda * DEGREES_PER_RADIAN);
    end.azimuthDeg = normaliseAzimuthDeg(Math.atan2(sinAlpha0, level) * DEGREES_PER_RADIAN);
    return true;
  };
}
