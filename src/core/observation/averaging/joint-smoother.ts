import { inverse3, quadraticForm3 } from '../../numeric/symmetric3.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { times } from './joint-filter.js';
import type { FilteredStep, FilteredSteps } from './joint-filter.js';

const COLUMNS = 4;
const AXES = [0, 1, 2] as const;

/** C⁻¹ times the positions and the unit columns: for each step three axes by four columns. */
export function jointSolutions(filtered: FilteredSteps): readonly Float64Array[] {
  const { size, steps } = filtered;
  const adjoint = new Float64Array(size * COLUMNS);
  const solutions: Float64Array[] = [];
  for (let place = steps.length - 1; place >= 0; place -= 1) {
    const step = steps[place] as FilteredStep;
    fade(adjoint, size, COLUMNS, steps[place + 1]);
    const solution = new Float64Array(3 * COLUMNS);
    for (let column = 0; column < COLUMNS; column += 1) {
      const [x, y, z] = times(
        step.inverse,
        step.innovation[column] as number,
        step.innovation[COLUMNS + column] as number,
        step.innovation[2 * COLUMNS + column] as number,
      );
      const weighted = [x, y, z] as const;
      for (const axis of AXES) {
        let value: number = weighted[axis];
        for (let row = 0; row < size; row += 1)
          value -= (step.gain[row * 3 + axis] as number) * (adjoint[row * COLUMNS + column] as number);
        solution[axis * COLUMNS + column] = value;
      }
    }
    forSeen(step, (axis, row, share) => {
      for (let column = 0; column < COLUMNS; column += 1)
        adjoint[row * COLUMNS + column] =
          (adjoint[row * COLUMNS + column] as number) + share * (solution[axis * COLUMNS + column] as number);
    });
    for (const { block } of step.step.begins) adjoint.fill(0, 3 * block * COLUMNS, 3 * (block + 1) * COLUMNS);
    solutions[place] = solution;
  }
  return solutions;
}

/**
 * What each occupation alone adds to χ²: how much smaller it would be without it.
 *
 * Given: the filtered occupations, their solutions, the joined position (m) and its covariance. Returned: for each step a
 * chi-square with 3 degrees of freedom; 0 where nothing would be left to hold it against.
 *
 * Reference: deletion of a block of observations equals a shift of its own as unknown, COOK-WEISBERG-1982 (from memory); held
 * against joining without it by a property test.
 */
export function gainsWithout(
  filtered: FilteredSteps,
  solutions: readonly Float64Array[],
  position: readonly [number, number, number],
  covariance: Symmetric3,
): readonly number[] {
  const { size, steps } = filtered;
  const n = new Float64Array(size * size);
  const gains: number[] = [];
  for (let place = steps.length - 1; place >= 0; place -= 1) {
    const step = steps[place] as FilteredStep;
    fadeBoth(n, size, steps[place + 1]);
    const carried = new Float64Array(size * 3);
    for (let row = 0; row < size; row += 1) {
      for (const axis of AXES) {
        let sum = 0;
        for (let column = 0; column < size; column += 1)
          sum += (n[row * size + column] as number) * (step.gain[column * 3 + axis] as number);
        carried[row * 3 + axis] = sum;
      }
    }
    const d = diagonalBlock(step, carried, size);
    gains[place] = gainOf(solutions[place] as Float64Array, d, position, covariance);
    forSeen(step, (axis, row, share) => {
      for (let column = 0; column < size; column += 1) {
        n[row * size + column] = (n[row * size + column] as number) - share * (carried[column * 3 + axis] as number);
        n[column * size + row] = (n[column * size + row] as number) - share * (carried[column * 3 + axis] as number);
      }
    });
    const rows = [
      [d.xx, d.xy, d.xz],
      [d.xy, d.yy, d.yz],
      [d.xz, d.yz, d.zz],
    ] as const;
    forSeen(step, (axis, row, share) => {
      forSeen(step, (other, column, otherShare) => {
        n[row * size + column] = (n[row * size + column] as number) + share * rows[axis][other] * otherShare;
      });
    });
    for (const { block } of step.step.begins) clearBoth(n, size, block);
  }
  return gains;
}

/** The block of C⁻¹ that belongs to a step. */
function diagonalBlock({ inverse, gain }: FilteredStep, carried: Float64Array, size: number): Symmetric3 {
  const added = (a: 0 | 1 | 2, b: 0 | 1 | 2): number => {
    let sum = 0;
    for (let row = 0; row < size; row += 1) sum += (gain[row * 3 + a] as number) * (carried[row * 3 + b] as number);
    return sum;
  };
  return {
    xx: inverse.xx + added(0, 0),
    xy: inverse.xy + added(0, 1),
    xz: inverse.xz + added(0, 2),
    yy: inverse.yy + added(1, 1),
    yz: inverse.yz + added(1, 2),
    zz: inverse.zz + added(2, 2),
  };
}

function gainOf(
  solution: Float64Array,
  d: Symmetric3,
  position: readonly [number, number, number],
  covariance: Symmetric3,
): number {
  const at = (axis: 0 | 1 | 2, column: number): number => solution[axis * COLUMNS + column] as number;
  const turned = AXES.map((axis) => times(covariance, at(axis, 1), at(axis, 2), at(axis, 3)));
  const less = (a: 0 | 1 | 2, b: 0 | 1 | 2): number => {
    const [x, y, z] = turned[a] as readonly [number, number, number];
    return x * at(b, 1) + y * at(b, 2) + z * at(b, 3);
  };
  const m: Symmetric3 = {
    xx: d.xx - less(0, 0),
    xy: d.xy - less(0, 1),
    xz: d.xz - less(0, 2),
    yy: d.yy - less(1, 1),
    yz: d.yz - less(1, 2),
    zz: d.zz - less(2, 2),
  };
  const g = AXES.map(
    (axis) => at(axis, 0) - at(axis, 1) * position[0] - at(axis, 2) * position[1] - at(axis, 3) * position[2],
  );
  // Nothing but rounding is left of the block where the others do not determine the position.
  if (inverse3(m) === null || m.xx < 1e-9 * d.xx || m.yy < 1e-9 * d.yy || m.zz < 1e-9 * d.zz) return 0;
  // Not positive to its last digit: nothing but rounding is left of it.
  return quadraticForm3(m, g[0] as number, g[1] as number, g[2] as number) ?? 0;
}

/** Everything an occupation sees, axis by axis: the unknown's row and how much of it. */
function forSeen(
  { step, constant, growing }: FilteredStep,
  visit: (axis: 0 | 1 | 2, row: number, share: number) => void,
): void {
  const [slow, growingBlock, ...shared] = step.blocks;
  for (const axis of AXES) {
    visit(axis, 3 * slow + axis, constant[axis]);
    visit(axis, 3 * growingBlock + axis, growing[axis]);
    for (const block of shared) visit(axis, 3 * block + axis, 1);
  }
}

/** Takes the adjoint from before a step to after the one before it. */
function fade(adjoint: Float64Array, size: number, width: number, next: FilteredStep | undefined): void {
  if (next === undefined) return;
  for (const row of slowRows(next, size)) {
    const rho = row % 3 === 2 ? next.step.rhoVertical : next.step.rhoHorizontal;
    for (let column = 0; column < width; column += 1)
      adjoint[row * width + column] = (adjoint[row * width + column] as number) * rho;
  }
}

function fadeBoth(n: Float64Array, size: number, next: FilteredStep | undefined): void {
  if (next === undefined) return;
  for (const row of slowRows(next, size)) {
    const rho = row % 3 === 2 ? next.step.rhoVertical : next.step.rhoHorizontal;
    for (let column = 0; column < size; column += 1) {
      n[row * size + column] = (n[row * size + column] as number) * rho;
      n[column * size + row] = (n[column * size + row] as number) * rho;
    }
  }
}

function slowRows({ slowBefore }: FilteredStep, size: number): readonly number[] {
  const rows: number[] = [];
  for (let row = 0; row < size; row += 1) if (slowBefore[Math.floor(row / 3)] === 1) rows.push(row);
  return rows;
}

function clearBoth(n: Float64Array, size: number, block: number): void {
  for (let row = 3 * block; row < 3 * block + 3; row += 1) {
    for (let column = 0; column < size; column += 1) {
      n[row * size + column] = 0;
      n[column * size + row] = 0;
    }
  }
}
