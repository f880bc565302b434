import type { PlaneTransformation } from '../../../core/grid/plane/similarity-2d.js';
import { accuracyText } from '../change/fitting-operations.js';
import type { Step, Way } from '../step.js';
import { backwardsWord } from '../step.js';

/** What a file of parameters says besides them. */
export interface DescribedMethod {
  readonly name: string;
  /** EPSG code of the method, `EPSG:9621`. */
  readonly methodCode: string;
  readonly accuracyM: number | null;
  readonly source: string | null;
}

/** A similarity or an affine transformation (EPSG 9621, 9624), straight from grid pair to grid pair. */
export function planeStep(transformation: PlaneTransformation, described: DescribedMethod): Step {
  return {
    forward: planeWay(transformation.forward),
    inverse: planeWay(transformation.inverse),
    ...wordsOf(described),
  };
}

/** What is said and recorded of a method with its parameters from a file. */
export function wordsOf({ name, methodCode, accuracyM, source }: DescribedMethod): Pick<Step, 'said' | 'recorded'> {
  return {
    said: (direction) => [`${name} (${methodCode})${backwardsWord(direction)}: ${accuracyText(accuracyM)}`],
    recorded: (direction) => [{ id: methodCode, name: name + backwardsWord(direction), accuracyM, origin: source }],
  };
}

function planeWay(run: PlaneTransformation['forward']): Way {
  return {
    needs: 'plane',
    gives: 'plane',
    run(point) {
      run(point.first, point.second, point);
      return null;
    },
  };
}
