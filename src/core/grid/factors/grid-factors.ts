import type { GridFactors, GridPairAndFactors, GridStatus, GridSystem } from '../systems/grid-system.js';

/**
 * Point scale factor and convergence at a place.
 *
 * Given: a grid; degrees, north and east positive; a record to fill.
 * Returned: `ok` with the record filled, or what is wrong with the place, the record untouched.
 * Convergence is positive where grid north is east of true north, in a south-orientated grid too:
 * grid north there is the direction of decreasing southing.
 * For a million rows use `system.forwardWithFactors`, which gives the pair as well in one pass.
 *
 * @example
 * // PROJ, get_factors of EPSG:2053 at 25°43′55.302″ S, 28°16′57.479″ E.
 * const factors = emptyGridPairAndFactors();
 * gridFactorsAt(loadGridSystem('EPSG:2053').value, -25.7320283333, 28.2826330556, factors);
 * factors.pointScaleFactor; // 1.000063957
 * factors.convergenceDeg * 3600; // 1121.2827
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

/**
 * A record for `forwardWithFactors` to fill; it also serves `forward` and `gridFactorsAt`.
 *
 * @example
 * // Flinders Peak, worked example of the GDA2020 manual: one pass for the pair and its factors.
 * const pair = emptyGridPairAndFactors();
 * loadGridSystem('EPSG:28355').value.forwardWithFactors(-37.9510334167, 144.4248678889, pair); // 'ok'
 * loadGridSystem('EPSG:28355').value.forwardWithFactors(-37.9510334167, 144.4248678889, pair) && pair.first; // 273741.297
 */
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
