import type { PlatePole } from '../../src/core/frames/plates/plate-pole.js';
import type { Shift } from '../../src/core/frames/shifts/shift-definition.js';
import { shiftWith } from './shift-of-row.js';

/**
 * A plate's motion as a time-dependent shift: an operation whose turn is known by itself, for a
 * national frame that was fixed to the plate in a stated year.
 *
 * Given: pole; the year in which the national frame and the pole's frame agreed; a name for the
 * national frame. Returned: a position vector shift, forward from the pole's frame at the epoch of
 * the coordinates to the national frame, with rates −ω and reference epoch that year.
 *
 * Note: it assumes that the national frame was the pole's frame in that year. Whatever offset they
 * had then stays in the coordinates of the base; it does not turn the vectors from it.
 * Reference: ITRF2014-PMM; EPSG method 1053. Inverse: direction `inverse` of the shift.
 */
export function plateShift(pole: PlatePole, nationalEpochYear: number, nationalFrame: string): Shift {
  return shiftWith('time-dependent-position-vector', {
    name: `${pole.frame} to ${nationalFrame} by the ${pole.name} plate`,
    rates: {
      txMPerYear: 0,
      tyMPerYear: 0,
      tzMPerYear: 0,
      dsPpmPerYear: 0,
      rxArcsecPerYear: -pole.omegaXMasPerYear / 1000,
      ryArcsecPerYear: -pole.omegaYMasPerYear / 1000,
      rzArcsecPerYear: -pole.omegaZMasPerYear / 1000,
    },
    referenceEpochYear: nationalEpochYear,
    from: pole.frame,
    to: nationalFrame,
    source: `${pole.model}, ${pole.name} plate`,
  });
}
