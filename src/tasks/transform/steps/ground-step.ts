import { groundWorking } from '../working/ground-working.js';
import { gaussRadiusM } from '../../../core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../../core/grid/factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../../../core/grid/factors/grid-factors.js';
import { createGroundScale } from '../../../core/grid/factors/ground-scale.js';
import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeodeticPoint } from '../../../records/points/point.js';
import type { PointOnTheWay } from '../point-on-the-way.js';
import type { Step } from '../step.js';

/** The ground scale of a job, with what its fitness is judged by. */
export interface GroundStep {
  readonly step: Step;
  readonly combinedFactor: number;
}

/**
 * Grid to ground: scaled about a place by its combined factor.
 * Given: a conformal grid; the place, degrees and ellipsoidal metres. Problems: those of the place and of the scale.
 */
export function groundStep(grid: GridSystem, place: GeodeticPoint): Outcome<GroundStep> {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = place;
  const held = emptyGridPairAndFactors();
  const status = grid.forwardWithFactors(latitudeDeg, longitudeDeg, held);
  if (status !== 'ok') return failure(gridProblem(status, { latitudeDeg, longitudeDeg }, grid));
  const factor = combinedFactor(
    held.pointScaleFactor ?? 1,
    elevationFactor(gaussRadiusM(grid.base.ellipsoid, latitudeDeg), ellipsoidalHeightM),
  );
  const scale = createGroundScale(held.first, held.second, factor);
  if (!scale.ok) return scale;
  const { forward, inverse } = scale.value;
  const [a, b] = grid.axes;
  const about = `${a.name} ${formatFixed(held.first, 4)}, ${b.name} ${formatFixed(held.second, 4)} (${a.unitName})`;
  const said = (direction: 'forward' | 'inverse'): string =>
    `${direction === 'inverse' ? 'ground to grid' : 'grid to ground'} about ${about}: combined factor ${formatFixed(factor, 9)}`;
  return success({
    step: {
      forward: {
        needs: 'plane',
        gives: 'plane',
        run(point) {
          keepGridPair(point);
          forward(point.first, point.second, point);
          return null;
        },
      },
      inverse: {
        needs: 'plane',
        gives: 'plane',
        run(point) {
          inverse(point.first, point.second, point);
          keepGridPair(point);
          return null;
        },
      },
      working: (direction, before, after) => [groundWorking(held, factor, direction, before, after)],
      said: (direction) => [said(direction)],
      recorded: (direction) => [{ id: 'ground-scale', name: said(direction) }],
    },
    combinedFactor: factor,
  });
}

/** The pair the scale is judged at. */
function keepGridPair(point: PointOnTheWay): void {
  point.gridFirst = point.first;
  point.gridSecond = point.second;
  point.gridHeightM = point.ellipsoidalHeightM;
}
