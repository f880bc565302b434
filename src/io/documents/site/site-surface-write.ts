import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { fixedNumber, significantNumber } from '../json/json-numbers.js';

/** Digits of coefficients and of covariances: far more than they are known to. */
const DIGITS = 9;

/**
 * A surface of heights as members of a site file: what it was fitted to, so that a reader finds heights and sigmas anew, and the
 * coefficients that come of it, which a reader compares. The inverse is `readSurface`.
 */
export function surfaceMembers(surface: HeightSurface): object {
  const { frame, trend, signal, shared, benchmarks, coefficients, cofactor, varianceFactor, untold, likely } = surface;
  return {
    kind: 'surface',
    origin: { east_m: fixedNumber(frame.origin.eastM, 6), north_m: fixedNumber(frame.origin.northM, 6) },
    origin_latitude_deg: fixedNumber(frame.latitudeDeg, 9),
    origin_convergence_deg: fixedNumber(frame.convergenceDeg, 9),
    trend,
    sigma_trend: untold === null ? trend : untold.trend,
    coefficients: coefficients.map((value) => significantNumber(value, DIGITS)),
    covariance: cofactor.map((value) => significantNumber(value * varianceFactor, DIGITS)),
    signal: {
      covariance: signal.kind,
      sigma_m: significantNumber(signal.sigmaM, DIGITS),
      length_m: significantNumber(signal.lengthM, DIGITS),
      likely: likely.map(({ weight, surface: one }) => ({
        sigma_m: significantNumber(one.signal.sigmaM, DIGITS),
        length_m: significantNumber(one.signal.lengthM, DIGITS),
        weight: significantNumber(weight, DIGITS),
      })),
    },
    variance_factor_applied: significantNumber(varianceFactor, DIGITS),
    shared: shared.map(({ varianceM2 }) => ({ sigma_m: significantNumber(Math.sqrt(varianceM2), DIGITS) })),
    benchmarks: benchmarks.map(({ pointId, place, differenceM, ownM2, sharedWith }) => {
      const at = shared.findIndex(({ id }) => id === sharedWith);
      return {
        point_id: pointId,
        east_m: fixedNumber(place.eastM, 6),
        north_m: fixedNumber(place.northM, 6),
        difference_m: fixedNumber(differenceM, 6),
        sigma_m: significantNumber(Math.sqrt(ownM2), DIGITS),
        shares: at < 0 ? null : at,
      };
    }),
  };
}
