import type { Ellipsoid } from './ellipsoid.js';

/** The series are cut for ellipsoids that are no flatter. */
const MOST_FLATTENING = 1 / 200;

/** What the series of short geodesics need of an ellipsoid. */
export interface ShortSeries {
  readonly secondEccentricitySquared: number;
  /** Coefficients of ε, ε², ε³ in A₃, beside 1. */
  readonly a3: readonly [number, number, number];
  /** Of ε, ε², ε³ in C₃₁; of ε², ε³ in C₃₂; of ε³ in C₃₃. */
  readonly c31: readonly [number, number, number];
  readonly c32: readonly [number, number];
  readonly c33: number;
  /** Whether what is left out is small enough. */
  readonly isSuited: boolean;
}

/**
 * The series of the longitude, polynomials in the third flattening.
 * Reference: KARNEY-2013, equations 24 and 25; from memory, confirmed by the solver for any line.
 */
export function shortSeries({ flattening: f, eccentricitySquared }: Ellipsoid): ShortSeries {
  const n = f / (2 - f);
  return {
    secondEccentricitySquared: eccentricitySquared / (1 - eccentricitySquared),
    a3: [(n - 1) / 2, -(2 + n - 3 * n * n) / 8, -(1 + 3 * n + n * n) / 16],
    c31: [(1 - n) / 4, (1 - n * n) / 8, (3 + 3 * n - n * n) / 64],
    c32: [(2 - 3 * n + n * n) / 32, (3 - 2 * n - 3 * n * n) / 64],
    c33: (5 - 9 * n + 5 * n * n) / 192,
    isSuited: Math.abs(f) <= MOST_FLATTENING,
  };
}

/** Σ C₃ₗ sin 2lσ, to ε³. */
export function longitudeSum({ c31, c32, c33 }: ShortSeries, e: number, sigma: number): number {
  return (
    e *
    (Math.sin(2 * sigma) * (c31[0] + e * (c31[1] + e * c31[2])) +
      e * (Math.sin(4 * sigma) * (c32[0] + e * c32[1]) + e * Math.sin(6 * sigma) * c33))
  );
}

/** Σ C₁ₗ sin 2lσ, to ε⁵. Reference: KARNEY-2013, equation 18; from memory, confirmed by the solver for any line. */
export function distanceSum(e: number, sigma: number): number {
  const e2 = e * e;
  return (
    e *
    (Math.sin(2 * sigma) * (-1 / 2 + e2 * (3 / 16 - e2 / 32)) +
      e *
        (Math.sin(4 * sigma) * (-1 / 16 + e2 / 32) +
          e *
            (Math.sin(6 * sigma) * (-1 / 48 + (e2 * 3) / 256) -
              e * ((Math.sin(8 * sigma) * 5) / 512 + (e * Math.sin(10 * sigma) * 7) / 1280))))
  );
}

/** Σ C′₁ₗ sin 2lτ, the reversion of `distanceSum`, to ε⁵. Reference: KARNEY-2013, equation 21; likewise. */
export function revertedSum(e: number, tau: number): number {
  const e2 = e * e;
  return (
    e *
    (Math.sin(2 * tau) * (1 / 2 + e2 * (-9 / 32 + (e2 * 205) / 1536)) +
      e *
        (Math.sin(4 * tau) * (5 / 16 - (e2 * 37) / 96) +
          e *
            (Math.sin(6 * tau) * (29 / 96 - (e2 * 75) / 128) +
              e * ((Math.sin(8 * tau) * 539) / 1536 + (e * Math.sin(10 * tau) * 3467) / 7680))))
  );
}
