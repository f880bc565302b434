import { InternalError } from '../../../records/internal-error.js';
import type { GridValues } from '../../geoid/geoid-grid.js';
import { createGeoidHeight } from '../../geoid/geoid-height.js';
import { normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { GeographicPair } from '../systems/grid-system.js';

/** One grid of latitude and longitude shifts. Row 0 is the southernmost, column 0 the westernmost. */
export interface GridShiftLevel {
  readonly southDeg: number;
  readonly westDeg: number;
  readonly latitudeStepDeg: number;
  readonly longitudeStepDeg: number;
  readonly rows: number;
  readonly columns: number;
  /** Target minus source, seconds of arc, north positive; NaN where there is none. */
  readonly latitudeArcsec: GridValues;
  /** Target minus source, seconds of arc, east positive. */
  readonly longitudeArcsec: GridValues;
}

/** A shift of latitude and longitude by interpolation in grids; heights do not change. */
export interface GridShift {
  /** False, and `out` untouched, outside every grid and beside a node without a shift. Inverse: `inverse`. */
  readonly forward: (latitudeDeg: number, longitudeDeg: number, out: GeographicPair) => boolean;
  /** Solves the forward equation; false outside, or where that does not settle. Inverse: `forward`. */
  readonly inverse: (latitudeDeg: number, longitudeDeg: number, out: GeographicPair) => boolean;
}

/** 1e-12 degrees are 0.1 µm. */
const SETTLED_DEG = 1e-12;
/** The shifts of neighbouring places differ by less than a thousandth of their distance, so that each turn gains three digits. */
const MOST_TURNS = 20;
const DEGREES_PER_ARCSECOND = 1 / 3600;

/**
 * A grid shift (EPSG method 9615, NTv2; EPSG 1113 by its rule of interpolation): bilinear between four nodes, or biquadratic
 * among nine where its publisher says so (each level then has three rows and columns).
 *
 * Given: one level or more; where levels overlap the one with the smallest cells counts. Returned:
 * functions from degrees to degrees, longitude −180…180.
 *
 * Notes. 1. Interpolated as geoid heights are (`createGeoidHeight`): edges belong to a level, a node without a shift gives none,
 * and no coarser level stands in. 2. The projection library's own reader is not used: it stops the program at a place on the
 * northern edge, takes a coarser level beside a node without a shift, writes to standard output, and keeps every grid for the
 * life of the program. 3. The inverse is solved by turns that read the grid at the other end.
 * Reference: PROJ-DOC, horizontal grid shift; NTv2 as in docs/shift-files.md.
 *
 * @example
 * // 3.6 seconds of arc are a thousandth of a degree.
 * const nodes = { southDeg: 50, westDeg: 10, latitudeStepDeg: 1, longitudeStepDeg: 1, rows: 2, columns: 2 };
 * const [latitudeArcsec, longitudeArcsec] = [new Float32Array(4).fill(3.6), new Float32Array(4).fill(-7.2)];
 * const shift = createGridShift([{ ...nodes, latitudeArcsec, longitudeArcsec }]);
 * const place = { latitudeDeg: 0, longitudeDeg: 0 };
 * shift.forward(50.5, 10.5, place); // true
 * shift.forward(50.5, 10.5, place) && place; // { latitudeDeg: 50.501, longitudeDeg: 10.498 }
 * shift.forward(52, 10.5, place); // false
 */
export function createGridShift(
  levels: readonly GridShiftLevel[],
  interpolation: 'bilinear' | 'biquadratic' = 'bilinear',
): GridShift {
  const sorted = [...levels].sort((a, b) => cell(a) - cell(b));
  const northDegAt = shiftsOf(sorted, interpolation, ({ latitudeArcsec }) => latitudeArcsec);
  const eastDegAt = shiftsOf(sorted, interpolation, ({ longitudeArcsec }) => longitudeArcsec);

  return {
    forward(latitudeDeg, longitudeDeg, out) {
      const north = northDegAt(latitudeDeg, longitudeDeg);
      const east = eastDegAt(latitudeDeg, longitudeDeg);
      if (north === null || east === null) return false;
      out.latitudeDeg = latitudeDeg + north;
      out.longitudeDeg = normaliseLongitudeDeg(longitudeDeg + east);
      return true;
    },
    inverse(latitudeDeg, longitudeDeg, out) {
      let [latitude, longitude] = [latitudeDeg, longitudeDeg];
      for (let turn = 0; turn < MOST_TURNS; turn += 1) {
        const north = northDegAt(latitude, longitude);
        const east = eastDegAt(latitude, longitude);
        if (north === null || east === null) return false;
        const moved = Math.max(Math.abs(latitudeDeg - north - latitude), Math.abs(longitudeDeg - east - longitude));
        latitude = latitudeDeg - north;
        longitude = longitudeDeg - east;
        if (moved > SETTLED_DEG) continue;
        out.latitudeDeg = latitude;
        out.longitudeDeg = normaliseLongitudeDeg(longitude);
        return true;
      }
      return false;
    },
  };
}

/** One component over all levels, degrees; null where there is none. */
function shiftsOf(
  sorted: readonly GridShiftLevel[],
  interpolation: 'bilinear' | 'biquadratic',
  valuesOf: (level: GridShiftLevel) => GridValues,
): (latitudeDeg: number, longitudeDeg: number) => number | null {
  const levels = sorted.map((level) => ({
    ...level,
    values: valuesOf(level),
    unitM: DEGREES_PER_ARCSECOND,
    wrapsLongitude: false,
    turnColumns: 0,
  }));
  const grid = { name: 'grid of shifts', sha256: null, frame: null, precisionNote: null, levels };
  const made = createGeoidHeight(grid, interpolation);
  if (!made.ok) throw new InternalError('a grid of shifts has rows and columns enough');
  return made.value.heightAt;
}

function cell(level: GridShiftLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}
