import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import type { GeoidModel } from '../../core/geoid/geoid-height.js';
import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { combinedFactor, elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../core/grid/factors/grid-factors.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GridPairAndFactors, GridSystem } from '../../core/grid/systems/grid-system.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { warningProblem } from '../../records/problem.js';

/** A place in the geographic system of a grid; the ellipsoidal height, metres, null where none is given. */
export interface DescribedPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
}

/** A place in a grid: its pair with the factors there. */
export interface PlaceInGrid extends Readonly<GridPairAndFactors> {
  /** Grid length over ellipsoidal at the height of the place, and that times the point scale; null without a height. */
  readonly elevationFactor: number | null;
  readonly combinedFactor: number | null;
}

/**
 * The pair and the factors of a grid at a place.
 * Problems: those of `gridProblem`. Warning: coordinate-outside-area.
 */
export function placeInGrid(place: DescribedPlace, system: GridSystem): Outcome<PlaceInGrid> {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place;
  const held = emptyGridPairAndFactors();
  const status = system.forwardWithFactors(latitudeDeg, longitudeDeg, held);
  if (status !== 'ok') return failure(gridProblem(status, { latitudeDeg, longitudeDeg }, system));
  const { areaOfUse } = system;
  const warnings =
    areaOfUse === null || isInsideArea(areaOfUse, latitudeDeg, longitudeDeg)
      ? []
      : [
          warningProblem('coordinate-outside-area', {
            message: `${latitudeDeg}, ${longitudeDeg} is outside the area of use of ${system.name}: ${areaOfUse.description}`,
            hint: 'check the zone',
          }),
        ];
  const elevation =
    ellipsoidalHeightM === null
      ? null
      : elevationFactor(gaussRadiusM(system.base.ellipsoid, latitudeDeg), ellipsoidalHeightM);
  const combined =
    elevation === null || held.pointScaleFactor === null ? null : combinedFactor(held.pointScaleFactor, elevation);
  return success({ ...held, elevationFactor: elevation, combinedFactor: combined }, warnings);
}

/** The geoid height at a place and the orthometric height of it, metres. Problems: those of `geoidProblem`. */
export function heightsAt(
  { latitudeDeg, longitudeDeg }: DescribedPlace,
  ellipsoidalHeightM: number,
  geoid: GeoidModel,
): Outcome<{ readonly geoidHeightM: number; readonly orthometricHeightM: number }> {
  const geoidHeightM = geoid.heightAt(latitudeDeg, longitudeDeg);
  if (geoidHeightM === null) {
    const status = geoid.statusAt(latitudeDeg, longitudeDeg) === 'nodata' ? 'nodata' : 'outside';
    return failure(geoidProblem(status, latitudeDeg, longitudeDeg, geoid.grid));
  }
  return success({ geoidHeightM, orthometricHeightM: orthometricHeightM(ellipsoidalHeightM, geoidHeightM) });
}
