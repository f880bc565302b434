import { geocentricGridShift } from '../../../core/frames/grids/geocentric-grid.js';
import type { GeocentricWay } from '../../../core/frames/grids/geocentric-grid.js';
import type { ShiftGrid, ShiftGridFacts, ValueAt } from '../../../core/frames/grids/shift-grid.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { identityWords } from '../../../core/geoid/geoid-test-value.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GridShift } from '../../../core/grid/plane/grid-shift.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { Step, Way } from '../step.js';
import { backwardsWord } from '../step.js';

/** A grid of shifts, with what its file says of itself. */
export interface NamedShiftGrid {
  readonly grid: ShiftGrid;
  /** Name of the file, its digest, and one of its nodes in words. */
  readonly name: string;
  readonly sha256: string;
  readonly test: string | null;
  readonly facts: Pick<ShiftGridFacts, 'frame' | 'fromName' | 'toName' | 'interpolation'>;
}

/** What each kind is called, its method for the record, and what becomes of heights. */
const KINDS = {
  horizontal: { id: 'EPSG:9615', words: 'grid of shifts', heights: '; heights unchanged' },
  'with heights': { id: 'grid:GEOGRAPHIC_3D_OFFSET', words: 'grid of shifts with heights', heights: '' },
  'heights alone': {
    id: 'grid:ELLIPSOIDAL_HEIGHT_OFFSET',
    words: 'grid of offsets of ellipsoidal heights',
    heights: '; latitude and longitude unchanged',
  },
  geocentric: { id: 'grid:GEOCENTRIC_TRANSLATION', words: 'grid of geocentric translations', heights: '' },
  vertical: { id: 'grid:VERTICAL_OFFSET_VERTICAL_TO_VERTICAL', words: 'grid of offsets between heights', heights: '' },
} as const;

/** What a kind of grid is called, its method for the record, and what becomes of heights. */
export function shiftGridKind(grid: ShiftGrid): (typeof KINDS)[keyof typeof KINDS] {
  if (grid.kind !== 'geographic') return KINDS[grid.kind];
  if (grid.shift === null) return KINDS['heights alone'];
  return KINDS[grid.heightAddedM === null ? 'horizontal' : 'with heights'];
}

/**
 * The step of a grid of shifts: of latitude and longitude (EPSG method 9615), with the ellipsoidal height or without; of that alone; of X, Y, Z;
 * of orthometric heights. A height that is not known stays so.
 * Given: the ellipsoids of the source and the target of the grid. Problems: grid-outside.
 */
export function shiftGridStep(named: NamedShiftGrid, source: Ellipsoid, target: Ellipsoid): Step {
  const { grid, name, sha256, test, facts } = named;
  const { fromName, toName, interpolation } = facts;
  const ends = fromName === null || toName === null ? '' : ` (${fromName} to ${toName}, as the file says)`;
  const way = interpolation === 'bilinear' ? '' : `, ${interpolation}`;
  const { id, words, heights } = shiftGridKind(grid);
  return {
    ...waysOf(grid, source, target),
    said: (direction) => [
      `${words} ${name}${backwardsWord(direction)}${ends}${way}: accuracy not stated${heights} (${identityWords(sha256, test)})`,
    ],
    recorded: (direction) => [
      { id, name: `${words} ${name}${backwardsWord(direction)}${ends}${way}`, accuracyM: null, origin: name },
    ],
  };
}

function waysOf(grid: ShiftGrid, source: Ellipsoid, target: Ellipsoid): Pick<Step, 'forward' | 'inverse'> {
  switch (grid.kind) {
    case 'geographic':
      return grid.shift === null
        ? { forward: ellipsoidalWay(grid.heightAddedM, 1), inverse: ellipsoidalWay(grid.heightAddedM, -1) }
        : geographicWays(grid.shift, grid.heightAddedM);
    case 'geocentric': {
      const { translationsAt, readAt } = grid;
      const ways = geocentricGridShift(translationsAt, readAt, readAt === 'source' ? source : target);
      return { forward: geocentricWay(ways.forward), inverse: geocentricWay(ways.inverse) };
    }
    case 'vertical':
      return { forward: verticalWay(grid.addedM, 1), inverse: verticalWay(grid.addedM, -1) };
  }
}

/** What the height grows by stands at the place of the source: before the shift, and after it on the way back. */
function geographicWays(shift: GridShift, addedAt: ValueAt | null): Pick<Step, 'forward' | 'inverse'> {
  const across = (run: GridShift['forward']): Way => ({
    needs: 'place',
    gives: 'place',
    run: (point) => (run(point.latitudeDeg, point.longitudeDeg, point) ? null : outside(point)),
  });
  const [forward, inverse] = [across(shift.forward), across(shift.inverse)];
  if (addedAt === null) return { forward, inverse };
  return {
    forward: {
      ...forward,
      run(point) {
        const added = addedAt(point.latitudeDeg, point.longitudeDeg);
        if (added === null) return outside(point);
        const problem = forward.run(point);
        if (problem === null && point.ellipsoidalHeightM !== null) point.ellipsoidalHeightM += added;
        return problem;
      },
    },
    inverse: {
      ...inverse,
      run(point) {
        const problem = inverse.run(point);
        if (problem !== null) return problem;
        const added = addedAt(point.latitudeDeg, point.longitudeDeg);
        if (added === null) return outside(point);
        if (point.ellipsoidalHeightM !== null) point.ellipsoidalHeightM -= added;
        return null;
      },
    },
  };
}

function geocentricWay(run: GeocentricWay): Way {
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run: (point) => (run(point.xM, point.yM, point.zM, point) ? null : outsideSpace(point)),
  };
}

/** Places stay, so that the way back reads the grid where the way there did. */
function ellipsoidalWay(addedAt: ValueAt, sign: 1 | -1): Way {
  return {
    needs: 'place',
    gives: 'place',
    run(point) {
      const added = addedAt(point.latitudeDeg, point.longitudeDeg);
      if (added === null) return outside(point);
      if (point.ellipsoidalHeightM !== null) point.ellipsoidalHeightM += sign * added;
      return null;
    },
  };
}

function verticalWay(addedAt: ValueAt, sign: 1 | -1): Way {
  return {
    needs: 'place',
    gives: null,
    run(point) {
      if (point.orthometricHeightM === null) return null;
      const added = addedAt(point.latitudeDeg, point.longitudeDeg);
      if (added === null) return outside(point);
      point.orthometricHeightM += sign * added;
      return null;
    },
  };
}

function outside({
  latitudeDeg,
  longitudeDeg,
}: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}): Problem {
  return outsideGrid(`latitude ${String(latitudeDeg)}, longitude ${String(longitudeDeg)}`);
}

function outsideSpace({ xM, yM, zM }: { readonly xM: number; readonly yM: number; readonly zM: number }): Problem {
  return outsideGrid(`X ${formatFixed(xM, 3)}, Y ${formatFixed(yM, 3)}, Z ${formatFixed(zM, 3)}`);
}

function outsideGrid(place: string): Problem {
  return errorProblem('grid-outside', {
    message: `${place} is outside the grid of shifts, or at a node without one`,
    hint: 'use a grid that covers the place; nothing is put in its stead',
  });
}
