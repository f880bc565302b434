/** Values of a grid; whole numbers where every node has one. */
export type GridValues = Float32Array | Float64Array | Int16Array;

/**
 * One regular grid of geoid heights over latitude and longitude, node-registered.
 *
 * Row 0 is the southernmost; within a row nodes run from west to east. A node without a value is
 * NaN in `values`; no NaN leaves the interpolation (geoid-height.ts). Made by `gridLevelFrom`.
 */
export interface GridLevel {
  /** Latitude of row 0, degrees. */
  readonly southDeg: number;
  /** Longitude of column 0, degrees east, as the file gives it. */
  readonly westDeg: number;
  readonly latitudeStepDeg: number;
  readonly longitudeStepDeg: number;
  readonly rows: number;
  readonly columns: number;
  /** Geoid heights N in `unitM`, positive where the geoid is above the ellipsoid. */
  readonly values: GridValues;
  /** Metres in one unit of the values. */
  readonly unitM: number;
  /** True for a grid that closes round the Earth. */
  readonly wrapsLongitude: boolean;
  /** Columns in a full turn where the grid wraps: `columns`, or one less where the last repeats the first; 0 where it does not wrap. */
  readonly turnColumns: number;
}

/** A geoid model: one grid, or several of different fineness. Made by io/geoid-grid-read.ts. */
export interface GeoidGrid {
  /** Name for reports: the file's name without its folder, or `egm96`. */
  readonly name: string;
  /** SHA-256 of the file, 64 hexadecimal digits; null for the built-in model. */
  readonly sha256: string | null;
  /** Code of the geographic system the grid is given in, such as `EPSG:4326`; null where the file does not say. */
  readonly frame: string | null;
  /** What limits the model's precision, where that is known and matters; null otherwise. */
  readonly precisionNote: string | null;
  /** Never empty; finest first. The first level that contains a position gives its height. */
  readonly levels: readonly GridLevel[];
}
