import { geodeticToGeocentric } from '../../../ellipsoid/geocentric.js';
import { defaultShift } from '../../../frames/shifts/default-shift.js';
import { WGS84 } from '../../../ellipsoid/ellipsoid.js';
import type { Ellipsoid } from '../../../ellipsoid/ellipsoid.js';
import { isInsideShiftArea } from '../../../frames/operations/operation-area.js';
import { operationFrameOf } from '../../../frames/operations/operation-frames.js';
import { OPERATIONS } from '../../../frames/operations/operations.js';
import { createShiftFunction } from '../../../frames/shifts/shift-function.js';
import type { Shift, ShiftDirection, ShiftFunction } from '../../../frames/shifts/shift-definition.js';
import { buildGridSystem } from '../../../grid/systems/build-grid-system.js';
import { definitionFromProjString } from '../../../projection/definition/definition-from-proj-string.js';
import { parseProjString } from '../../../projection/definition/parse-proj-string.js';
import type { GridSystem } from '../../../grid/systems/grid-system.js';
import type { GeodeticPoint } from '../../../../records/points/point.js';

/** A published shift between the frame of the system and another frame. */
export interface FrameShift {
  /** The other frame. */
  readonly name: string;
  /** What the shift was taken from: the code of an operation, or the system's own definition. */
  readonly source: string;
  /** Geocentric, from the system's frame to the other, and back. */
  readonly toOther: ShiftFunction;
  readonly toOwn: ShiftFunction;
  readonly ellipsoid: Ellipsoid;
  /** The same projection on the other frame's ellipsoid; null where that is the same, or cannot be made. */
  readonly grid: Pick<GridSystem, 'forward' | 'inverse'> | null;
}

/** A shift smaller than this is no other datum, metres. */
const SMALLEST_SHIFT_M = 0.05;
/** Ellipsoids nearer to each other than this are one, metres in the axis and in the flattening. */
const SAME_AXIS_M = 0.01;
const SAME_FLATTENING = 1e-9;
/** What describes an ellipsoid or datum in a PROJ string. */
const FIGURE = /^\+(?:ellps|datum|[abfR]|rf|towgs84|nadgrids)(?:=|$)/u;

/**
 * Shifts that could have been left out or applied twice: those of the built-in table of published operations that begin
 * or end in the system's frame and hold at the place, and the one written in the system's own definition.
 *
 * Given: the grid, which is built from a PROJ string; a place of the day on its ellipsoid; the coordinate epoch, decimal year (null: not stated, and
 * operations that change with time are left out). Returned: shifts of 5 cm or more at that place.
 * Reference: the operations' own, docs/methods/datum-operations.md.
 */
export function frameShiftsOf(grid: GridSystem, place: GeodeticPoint, epochYear: number | null): readonly FrameShift[] {
  const { base } = grid;
  const shifts: FrameShift[] = [];
  const add = (name: string, source: string, shift: Shift, ownToOther: ShiftDirection, ellipsoid: Ellipsoid): void => {
    const toOther = createShiftFunction(shift, epochYear, ownToOther);
    const toOwn = createShiftFunction(shift, epochYear, ownToOther === 'forward' ? 'inverse' : 'forward');
    if (!toOther.ok || !toOwn.ok) return;
    const at = geodeticToGeocentric(place, base.ellipsoid);
    const out = { xM: NaN, yM: NaN, zM: NaN };
    toOther.value(at.xM, at.yM, at.zM, out);
    if (Math.hypot(out.xM - at.xM, out.yM - at.yM, out.zM - at.zM) < SMALLEST_SHIFT_M) return;
    shifts.push({
      name,
      source,
      toOther: toOther.value,
      toOwn: toOwn.value,
      ellipsoid,
      grid: onEllipsoid(grid, ellipsoid),
    });
  };
  const own = base.code === null ? null : operationFrameOf(base.code);
  for (const operation of own === null ? [] : OPERATIONS) {
    const { shift, from, to, code, reversible } = operation;
    if (shift.area !== null && !isInsideShiftArea(shift.area, place.latitudeDeg, place.longitudeDeg)) continue;
    if (from === own) add(to.name, code, shift, 'forward', to.ellipsoid);
    else if (to === own && reversible) add(from.name, code, shift, 'inverse', from.ellipsoid);
  }
  // The registry writes the shift beside the grid; its geographic base often has none.
  const parsed = parseProjString(grid.definition.proj4 as string);
  const parameters = (parsed.ok ? parsed.value.datumShift : null) ?? base.datumShift;
  const written = parameters === null ? null : defaultShift(base.name, parameters);
  if (written !== null) add('WGS 84', 'the definition of the system', written, 'forward', WGS84);
  return shifts;
}

function onEllipsoid(grid: GridSystem, ellipsoid: Ellipsoid): FrameShift['grid'] {
  const own = grid.base.ellipsoid;
  if (
    Math.abs(own.semiMajorAxisM - ellipsoid.semiMajorAxisM) < SAME_AXIS_M &&
    Math.abs(own.flattening - ellipsoid.flattening) < SAME_FLATTENING
  )
    return null;
  const kept = (grid.definition.proj4 as string).split(/\s+/u).filter((token) => token !== '' && !FIGURE.test(token));
  const definition = definitionFromProjString(
    [...kept, `+a=${String(ellipsoid.semiMajorAxisM)}`, `+rf=${String(1 / ellipsoid.flattening)}`].join(' '),
  );
  const built = definition.ok ? buildGridSystem(definition.value, null) : definition;
  return built.ok ? built.value : null;
}
