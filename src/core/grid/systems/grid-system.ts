import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GeographicSystem } from './geographic-system.js';
import type { AreaOfUse, SystemDefinition } from '../../projection/definition/system-definition.js';

/** One axis of a grid, with the column its values are written to. */
export interface GridAxis {
  /** `easting_m`, `westing_m`, `northing_us_survey_ft`, …: the word, then the unit. */
  readonly columnName: string;
  readonly name: 'easting' | 'northing' | 'westing' | 'southing';
  /** E, N; the trade's Y (westing) and X (southing) of south-orientated grids; W with a northing. */
  readonly abbreviation: 'E' | 'N' | 'Y' | 'X' | 'W';
  readonly direction: 'east' | 'west' | 'north' | 'south';
  readonly unitName: string;
  readonly metresPerUnit: number;
}

/** The axis along the parallel, and the one along the meridian of origin. */
export type GridAxes = readonly [
  GridAxis & { readonly direction: 'east' | 'west' },
  GridAxis & { readonly direction: 'north' | 'south' },
];

/**
 * What a conversion says of its input. Anything but `ok` is a problem code; `gridProblem` makes the
 * message. With any other status the out record is left as it was.
 */
export type GridStatus = 'ok' | 'latitude-out-of-range' | 'longitude-out-of-range' | 'coordinate-outside-domain';

/** A grid pair in the system's own axes and unit; filled in by `forward`, so it is not readonly. */
export interface GridPair {
  first: number;
  second: number;
}

/** A geographic position, degrees; filled in by `inverse`, so it is not readonly. Longitude −180…180. */
export interface GeographicPair {
  latitudeDeg: number;
  longitudeDeg: number;
}

/** Scale and direction of a grid at a point; filled in by the conversions, so it is not readonly. */
export interface GridFactors {
  /** Grid length over ellipsoidal length, the same in every direction; null where it is not the same. */
  pointScaleFactor: number | null;
  /** Degrees, positive where grid north is east of true north: grid bearing = azimuth − convergence. */
  convergenceDeg: number;
  /** Scale along the meridian. */
  meridianScaleFactor: number;
  /** Scale along the parallel. */
  parallelScaleFactor: number;
}

/** A grid pair with its factors. */
export interface GridPairAndFactors extends GridPair, GridFactors {}

/** A parameter of a projection, for people to read. Unit: degrees, metres or none. */
export interface GridParameter {
  readonly name: string;
  readonly value: number;
  readonly unit: 'deg' | 'm' | '';
}

/**
 * A grid: a map projection with the geographic system it starts from, its axes and its unit.
 *
 * Made by `buildGridSystem`. The conversions write into a record that the caller owns, so that a
 * million rows need only one; they never throw and never write NaN.
 */
export interface GridSystem {
  readonly code: string | null;
  readonly name: string;
  readonly definition: SystemDefinition;
  readonly base: GeographicSystem;
  /** Easting or westing first, then northing or southing, whatever order the registry lists. */
  readonly axes: GridAxes;
  readonly southOrientated: boolean;
  readonly areaOfUse: AreaOfUse | null;
  /** The projection itself. */
  readonly projection: {
    /** PROJ's name, such as `tmerc`. */
    readonly key: string;
    /** In words, such as `Transverse Mercator (south orientated)`. */
    readonly method: string;
    /** True when scale is the same in every direction at a point. */
    readonly conformal: boolean;
    readonly parameters: readonly GridParameter[];
    /** The ellipsoid or sphere projected; the base's, except for a few systems for display. */
    readonly ellipsoid: Ellipsoid;
  };
  /**
   * Geographic to grid. Given: degrees, north and east positive, longitude −180…360 from Greenwich.
   * Returned: `ok` with the pair in the system's axes and unit, or what is wrong. Inverse: `inverse`.
   */
  readonly forward: (latitudeDeg: number, longitudeDeg: number, out: GridPair) => GridStatus;
  /** Grid to geographic. Given: the pair in the system's axes and unit. Inverse: `forward`. */
  readonly inverse: (first: number, second: number, out: GeographicPair) => GridStatus;
  /** `forward` and the factors at the point in one pass. */
  readonly forwardWithFactors: (latitudeDeg: number, longitudeDeg: number, out: GridPairAndFactors) => GridStatus;
}
