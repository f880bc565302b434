import { geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { combinedFactor, elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { Problem } from '../../records/problem.js';
import type { ReducedPosition } from '../../records/points/reduced-point.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** A position in every form, or the errors that make it unusable. */
export interface PositionedPoint {
  readonly position: ReducedPosition | null;
  readonly gaussRadiusM: number;
  readonly outsideArea: boolean;
  readonly problems: readonly Problem[];
}

const NONE: readonly Problem[] = Object.freeze([]);

/** A function from a geocentric tip to its position, with one scratch record for a whole run. */
export function createPositioner(setup: ReductionSetup): (tip: GeocentricPoint) => PositionedPoint {
  const held = emptyGridPairAndFactors();
  const { ellipsoid, geoid, grid } = setup;
  return (tip) => {
    const geodetic = geocentricToGeodetic(tip, ellipsoid);
    const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geodetic;
    const radiusM = gaussRadiusM(ellipsoid, latitudeDeg);
    const elevation = elevationFactor(radiusM, ellipsoidalHeightM);
    let geoidHeightM: number | null = null;
    let problems = NONE;
    if (geoid !== null) {
      geoidHeightM = geoid.heightAt(latitudeDeg, longitudeDeg);
      if (geoidHeightM === null) {
        const status = geoid.statusAt(latitudeDeg, longitudeDeg);
        problems = [geoidProblem(status === 'nodata' ? 'nodata' : 'outside', latitudeDeg, longitudeDeg, geoid.grid)];
      }
    }
    let outsideArea = false;
    if (grid !== null) {
      const status = grid.forwardWithFactors(latitudeDeg, longitudeDeg, held);
      if (status !== 'ok') problems = [...problems, gridProblem(status, { latitudeDeg, longitudeDeg }, grid)];
      outsideArea = grid.areaOfUse !== null && !isInsideArea(grid.areaOfUse, latitudeDeg, longitudeDeg);
    }
    if (problems.length > 0) return { position: null, gaussRadiusM: radiusM, outsideArea, problems };
    const scale = grid === null ? null : held.pointScaleFactor;
    return {
      position: {
        geodetic,
        geoidHeightM,
        orthometricHeightM: geoidHeightM === null ? null : orthometricHeightM(ellipsoidalHeightM, geoidHeightM),
        gridFirst: grid === null ? null : held.first,
        gridSecond: grid === null ? null : held.second,
        pointScaleFactor: scale,
        elevationFactor: elevation,
        combinedFactor: scale === null ? null : combinedFactor(scale, elevation),
        convergenceDeg: grid === null ? null : held.convergenceDeg,
      },
      gaussRadiusM: radiusM,
      outsideArea,
      problems,
    };
  };
}
