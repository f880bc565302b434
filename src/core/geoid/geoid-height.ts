import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeoidInterpolation } from '../../records/session.js';
import type { GeoidGrid, GridLevel } from './geoid-grid.js';
import { STENCIL_WIDTHS, bicubicAt, bilinearAt, biquadraticAt, snapToNode } from './grid-stencil.js';

/**
 * A position this far outside an edge still belongs to the grid, degrees (0.1 mm on the ground): an
 * edge on a third of a degree, written with nine decimals, may fall outside by half of it.
 */
export const GRID_EDGE_TOLERANCE_DEG = 1e-9;

/** Whether a position has a geoid height, and if not, why. */
export type GeoidStatus = 'inside' | 'outside' | 'nodata';

/** A geoid grid with its way of interpolation, ready for positions. Made by `createGeoidHeight`. */
export interface GeoidModel {
  readonly grid: GeoidGrid;
  readonly interpolation: GeoidInterpolation;
  /**
   * Geoid height N at a position, metres, positive where the geoid is above the ellipsoid; null
   * where there is none: ask `statusAt` for the reason. Nothing is allocated.
   *
   * Given: latitude −90 to 90 and longitude, degrees, in the system the grid is given in. The
   * longitude may be in −180 to 180 or in 0 to 360, whatever the grid uses.
   */
  readonly heightAt: (latitudeDeg: number, longitudeDeg: number) => number | null;
  /** Why `heightAt` gives null, or `inside` where it does not. */
  readonly statusAt: (latitudeDeg: number, longitudeDeg: number) => GeoidStatus;
}

type Interpolate = (level: GridLevel, row: number, column: number) => number;

const INTERPOLATIONS: Readonly<Record<GeoidInterpolation, Interpolate>> = {
  bilinear: bilinearAt,
  biquadratic: biquadraticAt,
  bicubic: bicubicAt,
};

/**
 * Makes the geoid height function of a grid.
 *
 * Given: the grid and the way of interpolation. A height defined by its publisher with one way must
 * be computed with that one.
 * Returned: the model. The finest level that contains a position gives its height; where that level
 * has no data there, the height is missing and no coarser level stands in.
 * Problems: `grid-unsupported` where a level has fewer rows or columns than the interpolation needs
 * (2, 3, 4 for bilinear, biquadratic, bicubic).
 * Reference: Lagrange interpolation on a regular grid; docs/methods/geoid.md.
 *
 * @example
 * // PROJ, cct with the 15 minute grid: -31.609; the nodes of the built-in grid are whole centimetres.
 * const model = createGeoidHeight((await readGeoidFile('egm96')).value, 'bilinear').value;
 * model.heightAt(38.628155, 269.779155); // -31.61
 */
export function createGeoidHeight(grid: GeoidGrid, interpolation: GeoidInterpolation): Outcome<GeoidModel> {
  const width = STENCIL_WIDTHS[interpolation];
  const at = INTERPOLATIONS[interpolation];
  const small = grid.levels.find(
    (level) => level.rows < width || level.columns < width || (level.wrapsLongitude && level.turnColumns < width),
  );
  if (small !== undefined) {
    return failure({
      code: 'grid-unsupported',
      severity: 'error',
      message: `${interpolation} interpolation needs ${width} rows and columns, ${grid.name} has a grid of ${small.rows} by ${small.columns}`,
      hint: 'choose bilinear',
    });
  }
  const levels = grid.levels;

  function rawAt(latitudeDeg: number, longitudeDeg: number): number | undefined {
    for (let index = 0; index < levels.length; index += 1) {
      const level = levels[index] as GridLevel;
      const row = rowOf(level, latitudeDeg);
      if (row < 0) continue;
      const column = columnOf(level, longitudeDeg);
      if (column < 0) continue;
      return at(level, row, column) * level.unitM;
    }
    return undefined;
  }

  return success({
    grid,
    interpolation,
    heightAt(latitudeDeg, longitudeDeg) {
      const height = rawAt(latitudeDeg, longitudeDeg);
      return height === undefined || Number.isNaN(height) ? null : height;
    },
    statusAt(latitudeDeg, longitudeDeg) {
      const height = rawAt(latitudeDeg, longitudeDeg);
      if (height === undefined) return 'outside';
      return Number.isNaN(height) ? 'nodata' : 'inside';
    },
  });
}

/** Fractional row from the south, 0 to rows − 1; −1 outside, and for a latitude that is no number. */
export function rowOf(level: GridLevel, latitudeDeg: number): number {
  const northing = latitudeDeg - level.southDeg;
  const last = level.rows - 1;
  const row = northing / level.latitudeStepDeg;
  if (row >= 0 && row <= last) return snapToNode(row);
  if (row < 0 && northing >= -GRID_EDGE_TOLERANCE_DEG) return 0;
  if (row > last && northing - last * level.latitudeStepDeg <= GRID_EDGE_TOLERANCE_DEG) return last;
  return -1;
}

/** Fractional column from the west; −1 outside, and for a longitude that is no number. */
export function columnOf(level: GridLevel, longitudeDeg: number): number {
  let easting = longitudeDeg - level.westDeg;
  if (!(easting >= -GRID_EDGE_TOLERANCE_DEG && easting < 360 - GRID_EDGE_TOLERANCE_DEG)) {
    easting -= 360 * Math.floor((easting + GRID_EDGE_TOLERANCE_DEG) / 360);
  }
  if (easting < 0) return 0;
  const column = easting / level.longitudeStepDeg;
  if (level.wrapsLongitude) return wrapColumn(level, column);
  const last = level.columns - 1;
  if (column <= last) return snapToNode(column);
  return easting - last * level.longitudeStepDeg <= GRID_EDGE_TOLERANCE_DEG ? last : -1;
}

function wrapColumn(level: GridLevel, column: number): number {
  if (!(column >= 0)) return -1;
  const snapped = snapToNode(column);
  return snapped >= level.turnColumns ? snapped - level.turnColumns : snapped;
}
