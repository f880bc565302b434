import type { RowPlace } from './fix.js';

/** What a control point may be used for: fitting, checking, or both (a check then that is not independent of the fit). */
export type ControlRole = 'fit' | 'check' | 'both';

/**
 * One point as read from a file of points, control, design or candidates. Everything but the identifier may be
 * unknown: null, or an empty text. Nothing is converted but the units of angles and times.
 */
export interface PointRow {
  readonly pointId: string;
  /** `1`, `2`, …; empty when the file does not say. */
  readonly occupation: string;
  readonly code: string;
  /** Grid pair in the axes and unit of `PointInput.axes`, in that order; both or neither are null. */
  readonly gridFirst: number | null;
  readonly gridSecond: number | null;
  /** Degrees, north and east positive, longitude −180 to 180; both or neither are null. */
  readonly latitudeDeg: number | null;
  readonly longitudeDeg: number | null;
  /** Half a unit of the last digits, where a row has both positions: of the grid pair in its unit, of the angles in degrees. */
  readonly positionRounding?: { readonly grid: number; readonly angleDeg: number } | undefined;
  readonly ellipsoidalHeightM: number | null;
  readonly orthometricHeightM: number | null;
  readonly geoidHeightM: number | null;
  readonly baseId: string | null;
  /** Distance from the base along the ellipsoid. */
  readonly baselineM: number | null;
  /** At the base, clockwise from true north. */
  readonly baselineAzimuthDeg: number | null;
  /** Point minus base, ellipsoidal heights. */
  readonly baselineHeightDifferenceM: number | null;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly firstEpochMs: number | null;
  readonly lastEpochMs: number | null;
  /** One sigma along true east, true north and up. */
  readonly sigmaEastM: number | null;
  readonly sigmaNorthM: number | null;
  readonly sigmaUpM: number | null;
  readonly correlationEn: number | null;
  /** One sigma per horizontal axis; control and design. */
  readonly sigmaHorizontalM: number | null;
  readonly sigmaVerticalM: number | null;
  readonly combinedFactor: number | null;
  readonly poleLengthM: number | null;
  readonly tiltDeg: number | null;
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
  readonly role: ControlRole | null;
  /** Where a coordinate was taken from, as the file says it. */
  readonly source: string;
  /** `accepted`, `review`, `rejected`; empty when the file does not say. */
  readonly verdict: string;
  readonly reasons: string;
  /** Cells of columns we do not know, in the input's order. */
  readonly passThrough: readonly string[];
  readonly place: RowPlace;
}
