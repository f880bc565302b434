import type { GeocentricPoint, GeodeticPoint, LocalCovariance, LocalVector } from './point.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { Fix, RowPlace } from './fix.js';

/** `review`: usable, with a stated doubt; `rejected`: no coordinate is given. */
export type PointVerdict = 'accepted' | 'review' | 'rejected';

/** The vector from the base to the point, along the ellipsoid. */
export interface Baseline {
  /** Geodesic distance on the ellipsoid. */
  readonly distanceM: number;
  /** Azimuth at the base, clockwise from true north; null when base and point coincide. */
  readonly azimuthDeg: number | null;
  /** Point minus base, ellipsoidal heights. */
  readonly heightDifferenceM: number;
}

/** Where the point is, in every form that is written. */
export interface ReducedPosition {
  readonly geodetic: GeodeticPoint;
  readonly geoidHeightM: number | null;
  readonly orthometricHeightM: number | null;
  /** In the axes and unit of the grid system, in the order of its columns; null without a grid. */
  readonly gridFirst: number | null;
  readonly gridSecond: number | null;
  readonly pointScaleFactor: number | null;
  readonly elevationFactor: number | null;
  readonly combinedFactor: number | null;
  readonly convergenceDeg: number | null;
}

/** 95 % figures derived from the covariance. */
export interface PositionalSummary {
  readonly ellipseMajor95M: number;
  readonly ellipseMinor95M: number;
  readonly ellipseAzimuthDeg: number;
  readonly circle95M: number;
  readonly vertical95M: number;
}

/** The parts of the covariance, each a local covariance; `total` is their sum. */
export interface UncertaintyParts {
  readonly noise: LocalCovariance;
  readonly correlated: LocalCovariance;
  readonly baseline: LocalCovariance;
  /** Age of the corrections. */
  readonly age: LocalCovariance;
  readonly pole: LocalCovariance;
  readonly base: LocalCovariance;
  /** Bend of the vector by a wrong base coordinate. */
  readonly bend: LocalCovariance;
  readonly total: LocalCovariance;
  /** Variance of the geoid height; null: not stated or no geoid. */
  readonly geoidVarianceM2: number | null;
}

/** One epoch of an occupation, reduced to the pole tip, and what became of it. */
export interface EpochResult {
  readonly fix: Fix;
  /** Tip after base correction. */
  readonly tip: GeocentricPoint;
  readonly refusals: readonly ProblemCode[];
  /** Weight in the mean, 0 to 1. */
  readonly weight: number;
  /** Tip minus the mean, in the mean's local frame; null when there is no mean. */
  readonly residual: LocalVector | null;
}

/** One occupation, or several combined, reduced. */
export interface ReducedPoint {
  readonly pointId: string;
  /** `1`, `2`, …; `1+2` when combined. */
  readonly occupation: string;
  readonly code: string;
  readonly baseId: string | null;
  /** Which set-up of that base, as `SetUpIdentity` tells them apart; the id where the session describes none. */
  readonly setupKey: string | null;
  /** Length used from reference point to tip; null where positions were of the tip. */
  readonly poleLengthM: number | null;
  readonly baseline: Baseline | null;
  readonly firstEpochMs: number | null;
  readonly lastEpochMs: number | null;
  readonly epochsUsed: number;
  readonly epochsRejected: number;
  readonly effectiveEpochs: number | null;
  /** Null when rejected. */
  readonly position: ReducedPosition | null;
  readonly uncertainty: UncertaintyParts | null;
  readonly summary: PositionalSummary | null;
  readonly verdict: PointVerdict;
  readonly reasons: readonly ProblemCode[];
  readonly passThrough: readonly string[];
  readonly place: RowPlace;
}
