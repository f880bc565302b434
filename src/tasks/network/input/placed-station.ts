import { combinedFactor, elevationFactor } from '../../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../../core/grid/factors/grid-factors.js';
import { gaussRadiusM } from '../../../core/ellipsoid/radii.js';
import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { NetworkPoint } from '../../../records/reports/network-report.js';
import type { NetworkSystems } from './network-input.js';

/** As the reduction does: the vertical figure of an orthometric height holds the geoid's error. */
export function geoidVarianceM2(orthometricHeightM: number | null, { geoidSigmaM }: NetworkSystems): number | null {
  return orthometricHeightM === null || geoidSigmaM === null ? null : geoidSigmaM * geoidSigmaM;
}

/** A place in every form that is written: on the ellipsoid, on the grid with its factors, above the geoid. */
export function placedIn(
  position: GeocentricPoint,
  { ellipsoid, grid, geoid }: NetworkSystems,
): Pick<NetworkPoint, 'geodetic' | 'gridFirst' | 'gridSecond' | 'factors' | 'geoidHeightM' | 'orthometricHeightM'> {
  const geodetic = geocentricToGeodetic(position, ellipsoid);
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geodetic;
  const held = emptyGridPairAndFactors();
  const isOnGrid = grid !== null && grid.forwardWithFactors(latitudeDeg, longitudeDeg, held) === 'ok';
  const n = geoid === null ? null : geoid.heightAt(latitudeDeg, longitudeDeg);
  const { pointScaleFactor, convergenceDeg } = held;
  const elevation = elevationFactor(gaussRadiusM(ellipsoid, latitudeDeg), ellipsoidalHeightM);
  return {
    geodetic,
    gridFirst: isOnGrid ? held.first : null,
    gridSecond: isOnGrid ? held.second : null,
    factors: isOnGrid
      ? {
          pointScale: pointScaleFactor,
          elevation,
          combined: pointScaleFactor === null ? null : combinedFactor(pointScaleFactor, elevation),
          convergenceDeg,
        }
      : null,
    geoidHeightM: n,
    orthometricHeightM: n === null ? null : ellipsoidalHeightM - n,
  };
}
