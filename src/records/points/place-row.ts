/** One point of a file to be transformed, as read: angles in degrees, everything else as written. */
export interface PlaceRow {
  readonly pointId: string;
  /** Grid pair in the file's axes and unit; or latitude, longitude in degrees; or X, Y in metres. */
  readonly first: number;
  readonly second: number;
  /** Z, metres; 0 with the other kinds. */
  readonly third: number;
  readonly ellipsoidalHeightM: number | null;
  readonly orthometricHeightM: number | null;
  /** Cells of the other columns, in the input's order. */
  readonly passThrough: readonly string[];
  readonly line: number;
  /** Data record number, from 1. */
  readonly record: number;
}
