/** A place on the ellipsoid without a height: degrees, north and east positive. */
export interface PlanPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** A place that must be served by a base: a work point, or a point of a densified line or area. */
export interface PlanPoint extends PlanPlace {
  readonly id: string;
  /** Null: unknown, and the terms that need it are left out and said so. */
  readonly ellipsoidalHeightM: number | null;
}

/** A place where a base could stand. Null attributes are not known. */
export interface BaseCandidate extends PlanPoint {
  /** Whether the mobile network reaches the place. */
  readonly cellular: boolean | null;
  /** Openness of the sky in any scale of the user's; larger is better. */
  readonly skyScore: number | null;
  /** Cost of using the place in any unit of the user's; smaller is better. */
  readonly cost: number | null;
}
