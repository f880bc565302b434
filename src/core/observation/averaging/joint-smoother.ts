import { inverse3, quadraticForm3 } from '../../numeric/symmetric3.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { createZeroedRoom } from '../../numeric/kept-room.js';
import { times } from './joint-filter.js';
import type { FilteredSteps } from './joint-filter.js';
import type { JointStep } from './joint-steps.js';
import { COLUMNS } from './joint-tape.js';

const AXES = [0, 1, 2] as const;

/** Numbers of a step of solutions: three axes by the position and the three unit columns. */
export const SOLUTION: number = 3 * COLUMNS;

const adjoints = createZeroedRoom();

/** C⁻¹ times the positions and the unit columns: for each step three axes by four columns, one step after another. */
export function jointSolutions(filtered: FilteredSteps): Float64Array {
  const { size, steps, tape } = filtered;
  const { numbers } = tape;
  const adjoint = adjoints(size * COLUMNS);
  const solutions = new Float64Array(SOLUTION * steps.length);
  for (let place = steps.length - 1; place >= 0; place -= 1) {
    const step = steps[place] as JointStep;
    const at = tape.stride * place;
    const [i, innovation, gain, to] = [at + tape.inverse, at + tape.innovation, at + tape.gain, SOLUTION * place];
    fade(adjoint, COLUMNS, filtered, place + 1);
    for (let column = 0; column < COLUMNS; column += 1) {
      const x = numbers[innovation + column] as number;
      const y = numbers[innovation + COLUMNS + column] as number;
      const z = numbers[innovation + 2 * COLUMNS + column] as number;
      // The inverse is symmetric: rows are read.
      for (let axis = 0; axis < 3; axis += 1) {
        let value: number =
          (numbers[i + 3 * axis] as number) * x +
          (numbers[i + 3 * axis + 1] as number) * y +
          (numbers[i + 3 * axis + 2] as number) * z;
        for (let row = 0; row < size; row += 1)
          value -= (numbers[gain + row * 3 + axis] as number) * (adjoint[row * COLUMNS + column] as number);
        solutions[to + axis * COLUMNS + column] = value;
      }
    }
    for (let axis = 0; axis < 3; axis += 1) addSeen(adjoint, filtered, place, axis, solutions, to + axis * COLUMNS);
    for (const { block } of step.begins) adjoint.fill(0, 3 * block * COLUMNS, 3 * (block + 1) * COLUMNS);
  }
  return solutions;
}

/** Adds the solution of an axis to all that the occupation sees along it. */
function addSeen(
  adjoint: Float64Array,
  { steps, tape }: FilteredSteps,
  place: number,
  axis: number,
  solutions: Float64Array,
  from: number,
): void {
  const { blocks } = steps[place] as JointStep;
  for (let kind = 0; kind < blocks.length; kind += 1) {
    const share =
      kind > 1 ? 1 : (tape.numbers[tape.stride * place + (kind === 0 ? tape.constant : tape.growing) + axis] as number);
    const row = (3 * (blocks[kind] as number) + axis) * COLUMNS;
    for (let column = 0; column < COLUMNS; column += 1)
      adjoint[row + column] = (adjoint[row + column] as number) + share * (solutions[from + column] as number);
  }
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
  solutions: Float64Array,
  position: readonly [number, number, number],
  covariance: Symmetric3,
): readonly number[] {
  const { size, steps, tape } = filtered;
  const n = new Float64Array(size * size);
  const gains: number[] = [];
  for (let place = steps.length - 1; place >= 0; place -= 1) {
    const step = steps[place] as JointStep;
    const gain = tape.stride * place + tape.gain;
    fadeBoth(n, filtered, place + 1);
    const carried = new Float64Array(size * 3);
    for (let row = 0; row < size; row += 1) {
      for (const axis of AXES) {
        let sum = 0;
        for (let column = 0; column < size; column += 1)
          sum += (n[row * size + column] as number) * (tape.numbers[gain + column * 3 + axis] as number);
        carried[row * 3 + axis] = sum;
      }
    }
    const d = diagonalBlock(filtered, place, carried);
    gains[place] = gainOf(solutions.subarray(SOLUTION * place, SOLUTION * (place + 1)), d, position, covariance);
    forSeen(filtered, place, (axis, row, share) => {
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
    forSeen(filtered, place, (axis, row, share) => {
      forSeen(filtered, place, (other, column, otherShare) => {
        n[row * size + column] = (n[row * size + column] as number) + share * rows[axis][other] * otherShare;
      });
    });
    for (const { block } of step.begins) clearBoth(n, size, block);
  }
  return gains;
}

/** The block of C⁻¹ that belongs to a step. */
function diagonalBlock({ size, tape }: FilteredSteps, place: number, carried: Float64Array): Symmetric3 {
  const at = tape.stride * place;
  const gain = tape.numbers.subarray(at + tape.gain, at + tape.gain + 3 * size);
  const inverse = (row: number, column: number): number => tape.numbers[at + tape.inverse + 3 * row + column] as number;
  const added = (a: 0 | 1 | 2, b: 0 | 1 | 2): number => {
    let sum = 0;
    for (let row = 0; row < size; row += 1) sum += (gain[row * 3 + a] as number) * (carried[row * 3 + b] as number);
    return sum;
  };
  return {
    xx: inverse(0, 0) + added(0, 0),
    xy: inverse(0, 1) + added(0, 1),
    xz: inverse(0, 2) + added(0, 2),
    yy: inverse(1, 1) + added(1, 1),
    yz: inverse(1, 2) + added(1, 2),
    zz: inverse(2, 2) + added(2, 2),
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
  { steps, tape }: FilteredSteps,
  place: number,
  visit: (axis: 0 | 1 | 2, row: number, share: number) => void,
): void {
  const [slow, growingBlock, ...shared] = (steps[place] as JointStep).blocks;
  const at = tape.stride * place;
  for (const axis of AXES) {
    visit(axis, 3 * slow + axis, tape.numbers[at + tape.constant + axis] as number);
    visit(axis, 3 * growingBlock + axis, tape.numbers[at + tape.growing + axis] as number);
    for (const block of shared) visit(axis, 3 * block + axis, 1);
  }
}

/** By how much a row faded before a step; 1: it holds no slow error. */
function fadingOf({ steps, tape }: FilteredSteps, place: number, row: number): number {
  if (tape.numbers[tape.stride * place + tape.slow + Math.floor(row / 3)] !== 1) return 1;
  const { rhoVertical, rhoHorizontal } = steps[place] as JointStep;
  return row % 3 === 2 ? rhoVertical : rhoHorizontal;
}

/** Takes the adjoint from before a step to after the one before it. */
function fade(adjoint: Float64Array, width: number, filtered: FilteredSteps, next: number): void {
  if (next >= filtered.steps.length) return;
  for (let row = 0; row < filtered.size; row += 1) {
    const rho = fadingOf(filtered, next, row);
    if (rho === 1) continue;
    for (let column = 0; column < width; column += 1)
      adjoint[row * width + column] = (adjoint[row * width + column] as number) * rho;
  }
}

function fadeBoth(n: Float64Array, filtered: FilteredSteps, next: number): void {
  const { size, steps } = filtered;
  if (next >= steps.length) return;
  for (let row = 0; row < size; row += 1) {
    const rho = fadingOf(filtered, next, row);
    if (rho === 1) continue;
    for (let column = 0; column < size; column += 1) {
      n[row * size + column] = (n[row * size + column] as number) * rho;
      n[column * size + row] = (n[column * size + row] as number) * rho;
    }
  }
}

function clearBoth(n: Float64Array, size: number, block: number): void {
  for (let row = 3 * block; row < 3 * block + 3; row += 1) {
    for (let column = 0; column < size; column += 1) {
      n[row * size + column] = 0;
      n[column * size + row] = 0;
    }
  }
}
