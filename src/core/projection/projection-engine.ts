/** Projected coordinates before axes and unit: metres east and north, false origin included. */
export interface PlanePair {
  eastM: number;
  northM: number;
}

/** A geographic position in radians; longitude from Greenwich. */
export interface AnglePair {
  latitudeRad: number;
  longitudeRad: number;
}

/** Projected coordinates with the local shape of the projection there. */
export interface PlanePairAndFactors extends PlanePair {
  /** Positive where grid north is east of true north. */
  convergenceRad: number;
  meridianScaleFactor: number;
  parallelScaleFactor: number;
}

/**
 * A map projection as plain functions. They return false, and leave the record alone, where the
 * projection does not hold; they never throw and never write a number that is not finite.
 */
export interface ProjectionEngine {
  readonly forward: (latitudeRad: number, longitudeRad: number, out: PlanePair) => boolean;
  readonly inverse: (eastM: number, northM: number, out: AnglePair) => boolean;
  readonly forwardWithFactors: (latitudeRad: number, longitudeRad: number, out: PlanePairAndFactors) => boolean;
}
