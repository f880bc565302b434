import type { GridFactors, GridPairAndFactors, GridStatus, GridSystem } from '../systems/grid-system.js';

/**
 * Point scale factor and convergence at a place.
 *
 * Given: a grid; degrees, north and east positive; a record to fill.
 * Returned: `ok` with the record filled, or what is wrong with the place, the record untouched.
 * Convergence is positive where grid north is east of true north, in a south-orientated grid too:
 * grid north there is the direction of decreasing southing.
 * For a million rows use `system.forwardWithFactors`, which gives the pair as well in one pass.
 */
export function gridFactorsAt(
  system: GridSystem,
  latitudeDeg: number,
  longitudeDeg: number,
  out: GridFactors,
): GridStatus {
  const held: GridPairAndFactors = emptyGridPairAndFactors();
  const status = system.forwardWithFactors(latitudeDeg, longitudeDeg, held);
  if (status === 'ok') {
    out.pointScaleFactor = held.pointScaleFactor;
    out.convergenceDeg = held.convergenceDeg;
    out.meridianScaleFactor = held.meridianScaleFactor;
    out.parallelScaleFactor = held.parallelScaleFactor;
  }
  return status;
}

/** A record for `forwardWithFactors` to fill; it also serves `forward` and `gridFactorsAt`. */
export function emptyGridPairAndFactors(): GridPairAndFactors {
  return {
    first: 0,
    second: 0,
    pointScaleFactor: 1,
    convergenceDeg: 0,
    meridianScaleFactor: 1,
    parallelScaleFactor: 1,
  };
}
