import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { factorSpread } from '../../core/grid/factors/ground-factor-spread.js';
import type { FactorSpread } from '../../core/grid/factors/ground-factor-spread.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { GeographicPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import { createJobExtent } from '../../core/grid/factors/job-extent.js';

/** The combined factor over a job, gathered while its points go by. */
export interface GroundSpread {
  /** Takes a grid pair in the system's axes and unit and its ellipsoidal height; null: that of the scale's point stands in. */
  readonly add: (first: number, second: number, ellipsoidalHeightM: number | null, pointId: string) => void;
  /** Null without points. */
  readonly result: () => FactorSpread | null;
  /** The point whose factor is farthest from that of the scale; null: there is none. */
  readonly worstId: () => string | null;
  /** Distance of the nearest point from that of the scale, metres; null: there is none. */
  readonly nearestM: () => number | null;
  /** Points whose height was not known. */
  readonly withoutHeight: () => number;
}

/**
 * Gathers the spread of the combined factor.
 *
 * Given: the grid; the combined factor of the ground scale; its point. Returned: functions that take points and give the spread.
 * Notes: constant memory; the extent is that of `createJobExtent`.
 */
export function createGroundSpread(grid: GridSystem, scaleFactor: number, scalePlace: GeodeticPoint): GroundSpread {
  const heightM = scalePlace.ellipsoidalHeightM;
  const own = emptyGridPairAndFactors();
  const hasOwn = grid.forwardWithFactors(scalePlace.latitudeDeg, scalePlace.longitudeDeg, own) === 'ok';
  const held = emptyGridPairAndFactors();
  const place: GeographicPair = { latitudeDeg: NaN, longitudeDeg: NaN };
  const extent = createJobExtent();
  const ends = new Float64Array([Infinity, -Infinity]);
  const { metresPerUnit } = grid.axes[0];
  const { ellipsoid } = grid.base;
  let without = 0;
  let farthest = -1;
  let worstId: string | null = null;
  let nearestM = Infinity;
  return {
    add(first, second, ellipsoidalHeightM, pointId) {
      if (grid.inverse(first, second, place) !== 'ok') return;
      if (
        grid.forwardWithFactors(place.latitudeDeg, place.longitudeDeg, held) !== 'ok' ||
        held.pointScaleFactor === null
      )
        return;
      if (ellipsoidalHeightM === null) without += 1;
      const factor = combinedFactor(
        held.pointScaleFactor,
        elevationFactor(gaussRadiusM(ellipsoid, place.latitudeDeg), ellipsoidalHeightM ?? heightM),
      );
      if (factor < (ends[0] as number)) ends[0] = factor;
      if (factor > (ends[1] as number)) ends[1] = factor;
      if (!(Math.abs(factor - scaleFactor) <= farthest)) {
        farthest = Math.abs(factor - scaleFactor);
        worstId = pointId;
      }
      if (hasOwn) {
        const [across, along] = [(first - own.first) * metresPerUnit, (second - own.second) * metresPerUnit];
        nearestM = Math.min(nearestM, Math.sqrt(across * across + along * along));
      }
      extent.add(first * metresPerUnit, second * metresPerUnit);
    },
    result: () => (ends[0] === Infinity ? null : factorSpread(ends, scaleFactor, extent.extent())),
    worstId: () => worstId,
    nearestM: () => (nearestM === Infinity ? null : nearestM),
    withoutHeight: () => without,
  };
}
