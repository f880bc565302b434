import proj4 from 'proj4';
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
  readonly latitudeArcsec: Float32Array;
  /** Target minus source, seconds of arc, east positive. */
  readonly longitudeArcsec: Float32Array;
}

/** A shift of latitude and longitude by interpolation in grids; heights do not change. */
export interface GridShift {
  /** False, and `out` untouched, outside every grid. Inverse: `inverse`. */
  readonly forward: (latitudeDeg: number, longitudeDeg: number, out: GeographicPair) => boolean;
  /** Solves the forward equation; false outside, or where that does not settle. Inverse: `forward`. */
  readonly inverse: (latitudeDeg: number, longitudeDeg: number, out: GeographicPair) => boolean;
}

/** The two must agree to this after the inverse: 1e-10 degrees are 0.01 mm. */
const SETTLED_DEG = 1e-10;

/**
 * A grid shift (EPSG method 9615, NTv2; EPSG 1113 by its rule of interpolation) through the projection library.
 *
 * Given: one level or more; where levels overlap the one with the smallest cells counts. Returned:
 * functions from degrees to degrees, longitude −180…180.
 *
 * Notes. 1. The levels are handed to the library as NTv2 bytes, made here from checked numbers: its
 * own reader of files checks nothing and takes the first grid that holds a point, however coarse.
 * 2. Places outside are refused before it is asked, as it would write to the console. 3. Its inverse
 * gives its first guess at an edge without saying so, so the inverse is carried forward again;
 * what is then missing (it stops at 1e-12 radians, 0.006 mm) is put right by one step more, which leaves nanometres.
 * 4. It keeps grids under a name for the life of the program: the name is made of the content.
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
export function createGridShift(levels: readonly GridShiftLevel[]): GridShift {
  const sorted = [...levels].sort((a, b) => cell(a) - cell(b));
  const bytes = ntv2Bytes(sorted);
  const name = `pegbook-${contentName(bytes)}`;
  proj4.nadgrid(name, bytes);
  const source = new proj4.Proj(`+proj=longlat +ellps=WGS84 +nadgrids=${name} +no_defs`);
  const target = new proj4.Proj('+proj=longlat +datum=WGS84 +no_defs');
  const moved: GeographicPair = { latitudeDeg: 0, longitudeDeg: 0 };

  function run(
    from: LibrarySystem,
    to: LibrarySystem,
    latitudeDeg: number,
    longitudeDeg: number,
    out: GeographicPair,
  ): boolean {
    const result = proj4.transform(from, to, { x: longitudeDeg, y: latitudeDeg }, false) as
      { x: number; y: number } | undefined;
    if (result === undefined || !Number.isFinite(result.x) || !Number.isFinite(result.y)) return false;
    out.latitudeDeg = result.y;
    out.longitudeDeg = result.x;
    return true;
  }

  const forward = (latitudeDeg: number, longitudeDeg: number, out: GeographicPair): boolean =>
    sorted.some((level) => holds(level, latitudeDeg, longitudeDeg)) &&
    run(source, target, latitudeDeg, longitudeDeg, out);

  return {
    forward,
    inverse(latitudeDeg, longitudeDeg, out) {
      if (!sorted.some((level) => holds(level, latitudeDeg, longitudeDeg))) return false;
      if (!run(target, source, latitudeDeg, longitudeDeg, moved)) return false;
      const { latitudeDeg: latitude, longitudeDeg: longitude } = moved;
      if (!forward(latitude, longitude, moved)) return false;
      if (
        Math.abs(moved.latitudeDeg - latitudeDeg) > SETTLED_DEG ||
        Math.abs(moved.longitudeDeg - longitudeDeg) > SETTLED_DEG
      )
        return false;
      out.latitudeDeg = latitude + (latitudeDeg - moved.latitudeDeg);
      out.longitudeDeg = longitude + (longitudeDeg - moved.longitudeDeg);
      return true;
    },
  };
}

/** Whether a level holds a place, its edges included. */
function holds(level: GridShiftLevel, latitudeDeg: number, longitudeDeg: number): boolean {
  const north = level.southDeg + (level.rows - 1) * level.latitudeStepDeg;
  const east = level.westDeg + (level.columns - 1) * level.longitudeStepDeg;
  return latitudeDeg >= level.southDeg && latitudeDeg <= north && longitudeDeg >= level.westDeg && longitudeDeg <= east;
}

function cell(level: GridShiftLevel): number {
  return level.latitudeStepDeg * level.longitudeStepDeg;
}

type LibrarySystem = InstanceType<typeof proj4.Proj>;

const HEADER_BYTES = 176;
const NODE_BYTES = 16;
const UNIT = 'SECONDS ';

/** NTv2, little-endian, longitudes positive west as the format has them; columns run from east to west. */
function ntv2Bytes(levels: readonly GridShiftLevel[]): ArrayBuffer {
  const nodes = levels.reduce((sum, level) => sum + level.rows * level.columns, 0);
  const view = new DataView(new ArrayBuffer(HEADER_BYTES * (1 + levels.length) + NODE_BYTES * nodes));
  view.setInt32(8, 11, true);
  view.setInt32(24, 11, true);
  view.setInt32(40, levels.length, true);
  for (let index = 0; index < UNIT.length; index += 1) view.setUint8(56 + index, UNIT.charCodeAt(index));
  let at = HEADER_BYTES;
  for (const level of levels) {
    const { rows, columns, southDeg, westDeg, latitudeStepDeg, longitudeStepDeg } = level;
    view.setFloat64(at + 72, southDeg * 3600, true);
    view.setFloat64(at + 88, (southDeg + (rows - 1) * latitudeStepDeg) * 3600, true);
    view.setFloat64(at + 104, -(westDeg + (columns - 1) * longitudeStepDeg) * 3600, true);
    view.setFloat64(at + 120, -westDeg * 3600, true);
    view.setFloat64(at + 136, latitudeStepDeg * 3600, true);
    view.setFloat64(at + 152, longitudeStepDeg * 3600, true);
    view.setInt32(at + 168, rows * columns, true);
    at += HEADER_BYTES;
    for (let row = 0; row < rows; row += 1) {
      for (let column = columns - 1; column >= 0; column -= 1) {
        view.setFloat32(at, level.latitudeArcsec[row * columns + column] as number, true);
        view.setFloat32(at + 4, -(level.longitudeArcsec[row * columns + column] as number), true);
        at += NODE_BYTES;
      }
    }
  }
  return view.buffer;
}

/** A name that differs with the content (two sums of 32 bits, FNV-1a forward and over every third byte). */
function contentName(buffer: ArrayBuffer): string {
  let all = 0x811c9dc5;
  let third = 0x811c9dc5;
  const bytes = new Uint8Array(buffer);
  bytes.forEach((byte, index) => {
    all = Math.imul(all ^ byte, 0x01000193);
    if (index % 3 === 0) third = Math.imul(third ^ byte, 0x01000193);
  });
  return `${String(all >>> 0)}-${String(third >>> 0)}-${String(bytes.length)}`;
}
