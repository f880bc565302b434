import { gridProblem } from '../../../core/grid/systems/grid-problem.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { implausiblePair } from '../../../core/grid/systems/implausible-place.js';
import type { Step } from '../step.js';
import { UNSAID } from '../step.js';

/**
 * Latitude and longitude to the pair of a grid.
 * Problems: those of `gridProblem`; coordinate-implausible for a pair that is no place and looks like another thing.
 */
export function projectionStep(grid: GridSystem): Step {
  return {
    forward: {
      needs: 'place',
      gives: 'plane',
      run(point) {
        const status = grid.forward(point.latitudeDeg, point.longitudeDeg, point);
        if (status === 'ok') return null;
        const { latitudeDeg, longitudeDeg } = point;
        return gridProblem(status, { latitudeDeg, longitudeDeg }, grid);
      },
    },
    inverse: {
      needs: 'plane',
      gives: 'place',
      run(point) {
        const status = grid.inverse(point.first, point.second, point);
        if (status === 'ok') return null;
        const { first, second } = point;
        return implausiblePair(grid, first, second, null) ?? gridProblem(status, { first, second }, grid);
      },
    },
    ...UNSAID,
  };
}
