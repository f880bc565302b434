import { NO_SHIFT_PARAMETERS } from './shift-definition.js';
import type { Shift } from './shift-definition.js';

/**
 * The shift to WGS 84 that a system's own definition carries, as data.
 *
 * Given: name of the system; three numbers (translation, metres) or seven (translation, metres;
 * rotations of the position vector convention, seconds of arc; scale difference, parts per million).
 * Returned: the shift, forward to WGS 84; null for another count of numbers. Nothing states its
 * accuracy: it is one of several published shifts, often the coarsest.
 * Reference: PROJ-DOC, +towgs84. Inverse: direction `inverse` of the shift.
 */
export function defaultShift(name: string, toWgs84: readonly number[]): Shift | null {
  const [txM = 0, tyM = 0, tzM = 0, rxArcsec = 0, ryArcsec = 0, rzArcsec = 0, dsPpm = 0] = toWgs84;
  if (toWgs84.length !== 3 && toWgs84.length !== 7) return null;
  const turns = rxArcsec !== 0 || ryArcsec !== 0 || rzArcsec !== 0 || dsPpm !== 0;
  return {
    code: null,
    name: `${name} to WGS 84, as written in the definition`,
    method: turns ? 'position-vector' : 'geocentric-translation',
    parameters: turns
      ? { txM, tyM, tzM, rxArcsec, ryArcsec, rzArcsec, dsPpm }
      : { ...NO_SHIFT_PARAMETERS, txM, tyM, tzM },
    rates: null,
    referenceEpochYear: null,
    pivot: null,
    rotationMatrix: 'automatic',
    heights: 'transformed',
    from: name,
    to: 'WGS 84',
    accuracyM: null,
    area: null,
    source: 'definition of the system',
  };
}
