import type { GridShift } from '../../../core/grid/plane/grid-shift.js';
import type { GeographicPair } from '../../../core/grid/systems/grid-system.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { Step, Way } from '../step.js';
import { backwardsWord } from '../step.js';

/** A grid of latitude and longitude shifts, with what its file says of itself. */
export interface NamedShiftGrid {
  readonly shift: GridShift;
  /** Name of the file. */
  readonly name: string;
  /** The file's own words for the two frames; null where it has none. */
  readonly fromName: string | null;
  readonly toName: string | null;
}

/** Latitude and longitude by a grid of shifts (EPSG method 9615); heights do not change. Problems: grid-outside. */
export function shiftGridStep({ shift, name: fileName, fromName, toName }: NamedShiftGrid): Step {
  const words = fromName === null || toName === null ? '' : ` (${fromName} to ${toName}, as the file says)`;
  return {
    forward: gridWay(shift.forward),
    inverse: gridWay(shift.inverse),
    said: (direction) => [
      `grid of shifts ${fileName}${backwardsWord(direction)}${words}: accuracy not stated; heights unchanged`,
    ],
    recorded: (direction) => [
      {
        id: 'EPSG:9615',
        name: `grid of shifts ${fileName}${backwardsWord(direction)}${words}`,
        accuracyM: null,
        origin: fileName,
      },
    ],
  };
}

function gridWay(run: GridShift['forward']): Way {
  return {
    needs: 'place',
    gives: 'place',
    run: (point) => (run(point.latitudeDeg, point.longitudeDeg, point) ? null : outside(point)),
  };
}

function outside({ latitudeDeg, longitudeDeg }: GeographicPair): Problem {
  return errorProblem('grid-outside', {
    message: `latitude ${String(latitudeDeg)}, longitude ${String(longitudeDeg)} is outside the grid of shifts, or at a node without one`,
    hint: 'use a grid that covers the place; nothing is put in its stead',
  });
}
