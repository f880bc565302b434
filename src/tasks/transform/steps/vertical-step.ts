import { createVerticalOffsetAndSlope } from '../../../core/frames/shifts/vertical-offset-and-slope.js';
import type { VerticalSlope } from '../../../core/frames/shifts/vertical-offset-and-slope.js';
import type { Step, Way } from '../step.js';
import type { DescribedMethod } from './plane-step.js';
import { wordsOf } from './plane-step.js';

/** A vertical offset, or offset and slope (EPSG 9616, 1046), added to orthometric heights where there are any. */
export function verticalStep(slope: VerticalSlope, described: DescribedMethod): Step {
  const at = createVerticalOffsetAndSlope(slope);
  return { forward: heightWay(at, 1), inverse: heightWay(at, -1), ...wordsOf(described) };
}

function heightWay(at: ReturnType<typeof createVerticalOffsetAndSlope>, sign: 1 | -1): Way {
  return {
    needs: 'place',
    gives: null,
    run(point) {
      if (point.orthometricHeightM !== null)
        point.orthometricHeightM += sign * at(point.latitudeDeg, point.longitudeDeg);
      return null;
    },
  };
}
