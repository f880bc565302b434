import { emptyGeodetic, geocentricToGeodetic } from '../../core/ellipsoid/geocentric.js';
import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { combinedFactor, elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { Draft } from '../../records/draft.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';
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

interface PositionDraft extends Draft<ReducedPosition> {
  readonly geodetic: Draft<GeodeticPoint>;
}

/** Records to be filled. */
function emptyPositioned(): { readonly found: Draft<PositionedPoint>; readonly made: PositionDraft } {
  const made: PositionDraft = {
    geodetic: emptyGeodetic(),
    geoidHeightM: 0.5,
    orthometricHeightM: 0.5,
    gridFirst: 0.5,
    gridSecond: 0.5,
    pointScaleFactor: 0.5,
    elevationFactor: 0.5,
    combinedFactor: 0.5,
    convergenceDeg: 0.5,
  };
  return { found: { position: made, gaussRadiusM: 0.5, outsideArea: false, problems: NONE }, made };
}

/**
 * A function from a geocentric tip to its position. `isKept`: what it gives stays as it is; else the next tip takes the same
 * records, which spares a million points their memory.
 */
export function createPositioner(
  setup: ReductionSetup,
  isKept: boolean = true,
): (tip: GeocentricPoint) => PositionedPoint {
  const held = emptyGridPairAndFactors();
  const again = emptyPositioned();
  const { ellipsoid, geoid, grid } = setup;
  return (tip) => {
    const { found, made } = isKept ? emptyPositioned() : again;
    const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geocentricToGeodetic(tip, ellipsoid, made.geodetic);
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
    found.gaussRadiusM = radiusM;
    found.outsideArea = outsideArea;
    found.problems = problems;
    found.position = problems.length > 0 ? null : made;
    const scale = grid === null ? null : held.pointScaleFactor;
    made.geoidHeightM = geoidHeightM;
    made.orthometricHeightM = geoidHeightM === null ? null : orthometricHeightM(ellipsoidalHeightM, geoidHeightM);
    made.gridFirst = grid === null ? null : held.first;
    made.gridSecond = grid === null ? null : held.second;
    made.pointScaleFactor = scale;
    made.elevationFactor = elevation;
    made.combinedFactor = scale === null ? null : combinedFactor(scale, elevation);
    made.convergenceDeg = grid === null ? null : held.convergenceDeg;
    return found;
  };
}
