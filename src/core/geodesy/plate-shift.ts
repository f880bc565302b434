import { NO_SHIFT_PARAMETERS, NO_SHIFT_RATES } from './shift-definition.js';
import type { Shift } from './shift-definition.js';
import type { PlatePole } from './plate-pole.js';

/**
 * A plate's motion as a time-dependent shift, for a national frame that was fixed to the plate in
 * a stated year and has no published time-dependent operation of its own.
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
  return {
    code: null,
    name: `${pole.frame} to ${nationalFrame} by the ${pole.name} plate`,
    method: 'time-dependent-position-vector',
    parameters: NO_SHIFT_PARAMETERS,
    rates: {
      ...NO_SHIFT_RATES,
      rxArcsecPerYear: -pole.omegaXMasPerYear / 1000,
      ryArcsecPerYear: -pole.omegaYMasPerYear / 1000,
      rzArcsecPerYear: -pole.omegaZMasPerYear / 1000,
    },
    referenceEpochYear: nationalEpochYear,
    pivot: null,
    rotationMatrix: 'automatic',
    heights: 'transformed',
    from: pole.frame,
    to: nationalFrame,
    accuracyM: null,
    area: null,
    source: `${pole.model}, ${pole.name} plate`,
  };
}
