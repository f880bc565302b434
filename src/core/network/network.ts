import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import type { Symmetric3 } from '../numeric/symmetric3.js';
import type { Distortion } from './distortions/distortion.js';
import type { GeocentricPoint, LocalCovariance } from '../../records/points/point.js';

/** A covariance in the local axes of a station, m². */
export interface CovarianceAt {
  readonly stationId: string;
  readonly local: LocalCovariance;
}

/** How an error that several observations share enters one of them. */
export interface SharedTerm {
  /** Name of the error. */
  readonly error: string;
  /**
   * `whole`: the vector was observed too small by the error's three components (the place of a base or of its set-up is off by
   * them); `up-from`: too small by it along the up of the station it starts from; `up-to`: too large along the up of the other;
   * `local-to`: too large by its three components, each times its factor, along east, north and up of the other; `distorted`: too
   * large as the error's `distortion` makes it.
   */
  readonly along: 'whole' | 'up-from' | 'up-to' | 'local-to' | 'distorted';
  /** East, north and up of `local-to`. */
  readonly factors?: readonly [number, number, number];
}

/** An error that several observations share: an unknown of which beforehand only its spread is known. */
export interface SharedError {
  readonly name: string;
  /** What it is of, in words; for grouping. */
  readonly of: string;
  /** Of three components, m², geocentric or in local axes; or the variance of one, m², of a distortion in squared millionths. */
  readonly covariance: Symmetric3 | CovarianceAt | number;
  /** Its one number stretches, turns or lifts vectors; absent: it shifts them. */
  readonly distortion?: Distortion;
  /** A part of a model, of no interest by itself: it is not listed among the results. */
  readonly isInner?: boolean;
}

/** A vector from one station to another, in one frame and epoch. */
export interface VectorObservation {
  readonly fromId: string;
  readonly toId: string;
  /** To minus from. */
  readonly difference: GeocentricPoint;
  /** m², geocentric or in local axes, without what `shared` holds. */
  readonly covariance: Symmetric3 | CovarianceAt;
  readonly shared: readonly SharedTerm[];
  /** Name of the day it was observed on; absent or empty: not known. */
  readonly day?: string;
}

/** A height difference by levelling: orthometric, to minus from. */
export interface LevelledObservation {
  readonly fromId: string;
  readonly toId: string;
  readonly differenceM: number;
  readonly sigmaM: number;
}

/** A distance along the straight line between an instrument and a target, each above its mark. */
export interface DistanceObservation {
  readonly fromId: string;
  readonly toId: string;
  readonly distanceM: number;
  /** Heights of instrument and target above their marks, metres; 0 for a distance from mark to mark. */
  readonly fromUpM: number;
  readonly toUpM: number;
  readonly sigmaM: number;
}

/** What is known of a station beforehand. */
export interface ControlPoint {
  readonly id: string;
  /** Null: only the orthometric height is known. */
  readonly position: GeocentricPoint | null;
  /** The orthometric height, where no position is known or the position's height was made from it; else null. */
  readonly orthometricHeightM: number | null;
  /** Which part counts: all of it without error, all of it with its covariance, the plan position, the height. */
  readonly held: 'fixed' | 'weighted' | 'plan' | 'height';
  /** m², geocentric; of a height alone its variance is `uu` of the local frame. Null: held without error. */
  readonly covariance: Symmetric3 | null;
  /** Variance of an orthometric height without a position, m²; null: held without error. */
  readonly heightVarianceM2: number | null;
}

/** What the geoid may be wrong by, wherever an orthometric height meets an ellipsoidal one: a constant and a tilt. */
export interface GeoidError {
  readonly constantSigmaM: number;
  /** One sigma of the slope in each direction, metres a kilometre. */
  readonly tiltSigmaMPerKm: number;
}

/** Everything that is adjusted together. */
export interface Network {
  readonly ellipsoid: Ellipsoid;
  readonly vectors: readonly VectorObservation[];
  readonly levelled: readonly LevelledObservation[];
  readonly distances: readonly DistanceObservation[];
  readonly control: readonly ControlPoint[];
  readonly shared: readonly SharedError[];
  /** Geoid height of stations where levelling or an orthometric height meets them, by id, metres. */
  readonly geoidHeightM: ReadonlyMap<string, number>;
  readonly geoidError: GeoidError | null;
}

/** A coordinate that is held fixed is held to this, one sigma in metres: below all that is measured or written. */
export const FIXED_SIGMA_M = 1e-6;
