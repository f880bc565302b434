import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { gaussRadiusM } from '../../../core/ellipsoid/radii.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { combinedFactor, elevationFactor } from '../../../core/grid/factors/elevation-factor.js';
import type { ControlPair } from '../control/pair-control.js';

/** What scale and rotation of a site can be expected to be compared with: means over the control. */
export interface ExpectedFactors {
  readonly pointScaleFactor: number | null;
  /** Null where ellipsoidal heights are not known. */
  readonly combinedFactor: number | null;
  readonly convergenceDeg: number;
  /** Half the range over the control. */
  readonly convergenceRangeDeg: number;
  readonly meanHeightM: number | null;
}

/** Factors of the grid at the middle of the control, as the mean of those at its points. */
export function expectedFactors(pairs: readonly ControlPair[], ellipsoid: Ellipsoid): ExpectedFactors {
  const n = pairs.length;
  const scales = pairs.map((pair) => pair.pointScaleFactor).filter((scale) => scale !== null);
  const heights = pairs.map((pair) => pair.measured.station.ellipsoidalHeightM).filter((height) => height !== null);
  const pointScaleFactor = scales.length === n ? mean(scales) : null;
  const meanHeightM = heights.length === n ? mean(heights) : null;
  const latitudeDeg = mean(pairs.map((pair) => pair.measured.station.latitudeDeg));
  const convergences = pairs.map((pair) => pair.convergenceDeg);
  return {
    pointScaleFactor,
    combinedFactor:
      pointScaleFactor === null || meanHeightM === null
        ? null
        : combinedFactor(pointScaleFactor, elevationFactor(gaussRadiusM(ellipsoid, latitudeDeg), meanHeightM)),
    convergenceDeg: mean(convergences),
    convergenceRangeDeg: (largestOf(convergences) - smallestOf(convergences)) / 2,
    meanHeightM,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
