import type { RowPlace } from './fix.js';

/** A point that lines can be drawn from: its place in the base of the grid, and the heights known. */
export interface Station {
  readonly pointId: string;
  /** Empty where the file does not say. */
  readonly occupation: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** In the axes and unit of the grid. */
  readonly gridFirst: number;
  readonly gridSecond: number;
  readonly ellipsoidalHeightM: number | null;
  readonly orthometricHeightM: number | null;
  readonly place: RowPlace;
}

/** A point by its place on the ellipsoid alone. */
export type EllipsoidStation = Omit<Station, 'gridFirst' | 'gridSecond'>;

/** What of the line between two points needs no map. Null: not known, because a height is not, or not unique, because the ends coincide. */
export interface EllipsoidJoin {
  readonly from: EllipsoidStation;
  readonly to: EllipsoidStation;
  readonly azimuthDeg: number | null;
  /** At the far end, back to the near end. */
  readonly reverseAzimuthDeg: number | null;
  readonly ellipsoidalDistanceM: number;
  /** Radius of the ellipsoid in the direction of the line at its middle. */
  readonly radiusM: number;
  /** Mean of the ends, above the ellipsoid. */
  readonly meanHeightM: number | null;
  readonly elevationFactor: number | null;
  /** Horizontal at the mean height of the ends. */
  readonly groundDistanceM: number | null;
  /** Straight, mark to mark. */
  readonly slopeDistanceM: number | null;
  /** Far end minus near end. */
  readonly ellipsoidalHeightDifferenceM: number | null;
  readonly orthometricHeightDifferenceM: number | null;
}

/** Everything about the line between two points of a grid. */
export interface PointJoin extends EllipsoidJoin {
  readonly from: Station;
  readonly to: Station;
  readonly gridDistanceM: number;
  /** Clockwise from grid north, in south-orientated grids too. */
  readonly gridBearingDeg: number | null;
  readonly convergenceFromDeg: number;
  readonly convergenceToDeg: number;
  readonly arcToChordFromArcsec: number | null;
  readonly arcToChordToArcsec: number | null;
  readonly pointScaleFactorFrom: number | null;
  readonly pointScaleFactorMiddle: number | null;
  readonly pointScaleFactorTo: number | null;
  readonly lineScaleFactor: number | null;
}

/** What a distance was measured on, or reduced to. */
export type DistanceKind = 'grid' | 'ellipsoidal' | 'ground' | 'slope';

/** A direction and a distance from a known point. */
export interface PolarLine {
  readonly pointId: string;
  readonly fromId: string;
  /** From true north; or from grid north: one of them is null. */
  readonly azimuthDeg: number | null;
  readonly gridBearingDeg: number | null;
  readonly distanceM: number;
  readonly distanceKind: DistanceKind;
  /** Far end minus near end; null: not stated. */
  readonly heightDifferenceM: number | null;
  readonly place: RowPlace;
}

/** Area and boundary of a closed figure. */
export interface FigureArea extends EllipsoidArea {
  readonly gridAreaM2: number;
  readonly gridPerimeterM: number;
}

/** What of the area of a closed figure needs no map. */
export interface EllipsoidArea {
  readonly pointIds: readonly string[];
  /** Inside geodesic sides. */
  readonly ellipsoidalAreaM2: number;
  /** At the mean height of the corners; null where a height is not known. */
  readonly groundAreaM2: number | null;
  readonly meanHeightM: number | null;
  readonly ellipsoidalPerimeterM: number;
  /** True where the corners were given clockwise, as seen on the ground. */
  readonly isClockwise: boolean;
}
