import type { MethodAction } from '../../../core/frames/methods/filed-method.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import type { GridPair } from '../../../core/grid/systems/grid-system.js';
import { accuracyText } from '../change/fitting-operations.js';
import type { Step, Way } from '../step.js';
import { backwardsWord } from '../step.js';

/** A method with its parameters from a shift file, and what the file says beside them. */
export interface FiledMethodUse {
  readonly name: string;
  /** EPSG code of the method, `EPSG:9621`. */
  readonly methodCode: string;
  readonly accuracyM: number | null;
  readonly source: string | null;
  readonly action: MethodAction;
}

/** A method of a shift file (src/core/frames/methods), in the plane or on orthometric heights where there are any. */
export function filedStep({ name, methodCode, accuracyM, source, action }: FiledMethodUse, ellipsoid: Ellipsoid): Step {
  return {
    ...waysOf(action, ellipsoid),
    said: (direction) => [`${name} (${methodCode})${backwardsWord(direction)}: ${accuracyText(accuracyM)}`],
    recorded: (direction) => [{ id: methodCode, name: name + backwardsWord(direction), accuracyM, origin: source }],
  };
}

function waysOf(action: MethodAction, ellipsoid: Ellipsoid): Pick<Step, 'forward' | 'inverse'> {
  if (action.on === 'plane') return { forward: planeWay(action.forward), inverse: planeWay(action.inverse) };
  const addedM = action.addedM(ellipsoid);
  return { forward: heightWay(addedM, 1), inverse: heightWay(addedM, -1) };
}

function planeWay(run: (first: number, second: number, out: GridPair) => void): Way {
  return {
    needs: 'plane',
    gives: 'plane',
    run(point) {
      run(point.first, point.second, point);
      return null;
    },
  };
}

function heightWay(addedM: (latitudeDeg: number, longitudeDeg: number) => number, sign: 1 | -1): Way {
  return {
    needs: 'place',
    gives: null,
    run(point) {
      if (point.orthometricHeightM !== null)
        point.orthometricHeightM += sign * addedM(point.latitudeDeg, point.longitudeDeg);
      return null;
    },
  };
}
