import { choleskyFactor, choleskyInverse } from '../numeric/linear-solve.js';
import { InternalError } from '../../records/internal-error.js';
import { termRows } from './block-equations.js';
import type { BlockObservation } from './block-equations.js';
import { blockEvidence } from './block-tests.js';
import { crossCofactor, pathOf } from './factor-solve.js';
import type { BlockPath } from './factor-solve.js';
import { FIXED_SIGMA_M } from './network.js';
import type { Network } from './network.js';
import { networkEquations } from './network-equations.js';
import type { SolvedNetwork } from './solve-network.js';

/**
 * Share of redundancy of a control point below which nothing speaks of it: points held to a micrometre have little beside a
 * network of centimetres, and all of it counts; what is left where nothing speaks of them is rounding.
 */
const NO_SHARE = 1e-12;

/** What the network, free of control, says of one control point with all the others. */
export interface ControlTest {
  /** Place in the network's list of control. */
  readonly index: number;
  /** Network minus control in the directions that hold (east, north, up, or of them those held), metres, with all control fitted. */
  readonly differenceM: Float64Array;
  /** What the other control and the network say minus what is stated, so far as they say it, metres. */
  readonly othersMinusStatedM: Float64Array;
  /** What vᵀPv loses without this point; χ² with `checkedDirections` degrees of freedom. */
  readonly test: number;
  readonly checkedDirections: number;
}

/** All control against the network. */
export interface ControlTests {
  readonly points: readonly ControlTest[];
  /** What vᵀPv gains when the control is held instead of the minimal datum: χ² with `degreesOfFreedom`. */
  readonly together: number;
  readonly degreesOfFreedom: number;
}

/**
 * Tests of the control against a network that is held by a minimal datum only.
 *
 * d = network − control, with covariance A Q Aᵀ + C between all control points; the datum itself, a shift of each part, is an
 * unknown. So no point of control is taken for right because the datum happens to stand on it.
 *
 * Given: the network; its free solution; the places of the control that holds the datum, and of that to be tested (which may
 * hold the former). Returned: one test of each, and all together: exactly what vᵀPv of the constrained adjustment has more.
 */
export function testControl(
  network: Network,
  free: SolvedNetwork,
  anchors: readonly number[],
  tested: readonly number[],
): ControlTests {
  const { list, solution } = free;
  const built = networkEquations(network, list, {
    control: tested.map((index) => ({ point: network.control[index]!, index })),
    leftOut: { has: (kind) => kind !== 'control' },
  });
  const rows = built.equations.observations;
  const paths = new Map<number, BlockPath>();
  const path = (block: number): BlockPath => {
    let found = paths.get(block);
    if (found === undefined) paths.set(block, (found = pathOf(solution.factor, block)));
    return found;
  };
  const carried = rows.map((row) => carry(row, built.equations.sizes, path));
  const starts = [0];
  for (const { observed } of rows) starts.push(starts.at(-1)! + observed.length);
  const n = starts.at(-1)!;
  const covariance = new Float64Array(n * n);
  const d = new Float64Array(n);
  rows.forEach((row, i) => {
    const own = inverseOf(row.weight, row.observed.length);
    for (let j = 0; j <= i; j += 1) {
      const block = crossOf(free, carried[i]!, carried[j]!);
      const columns = rows[j]!.observed.length;
      for (let a = 0; a < row.observed.length; a += 1)
        for (let b = 0; b < columns; b += 1) {
          const value = block[a * columns + b]! + (i === j ? own[a * columns + b]! : 0);
          covariance[(starts[i]! + a) * n + starts[j]! + b] = value;
          covariance[(starts[j]! + b) * n + starts[i]! + a] = value;
        }
    }
    const computed = predictedBy(row, free);
    for (let a = 0; a < row.observed.length; a += 1) d[starts[i]! + a] = computed[a]! - row.observed[a]!;
  });
  const factor = choleskyFactor(covariance, n);
  if (factor === null) throw new InternalError('the covariance of the control is not positive definite');
  const weight = choleskyInverse(factor, n);
  const design = shiftDesign(free, network, anchors, carried, starts);
  return withShift(weight, design, d, starts, tested);
}

/** A row with the path of each of its blocks. */
type Carried = readonly {
  readonly matrix: Float64Array;
  readonly path: BlockPath;
  readonly rows: number;
  readonly size: number;
}[];

function carry(row: BlockObservation, sizes: ArrayLike<number>, path: (block: number) => BlockPath): Carried {
  const rows = row.observed.length;
  return row.terms.map((term) => {
    const size = sizes[term.block]!;
    const matrix = new Float64Array(rows * size);
    termRows(term, rows, size, matrix);
    return { matrix, path: path(term.block), rows, size };
  });
}

/** A_i Q A_jᵀ, row by row. */
function crossOf({ solution }: SolvedNetwork, first: Carried, second: Carried): Float64Array {
  const rows = first[0]!.rows;
  const columns = second[0]!.rows;
  const sum = new Float64Array(rows * columns);
  for (const a of first)
    for (const b of second) {
      const q = crossCofactor(solution.factor, a.path, b.path);
      for (let r = 0; r < rows; r += 1)
        for (let c = 0; c < columns; c += 1)
          for (let s = 0; s < a.size; s += 1)
            for (let t = 0; t < b.size; t += 1)
              sum[r * columns + c]! += a.matrix[r * a.size + s]! * q[s * b.size + t]! * b.matrix[c * b.size + t]!;
    }
  return sum;
}

function predictedBy(row: BlockObservation, { solution }: SolvedNetwork): Float64Array {
  const rows = row.observed.length;
  const computed = new Float64Array(rows);
  const matrix = new Float64Array(rows * 4);
  for (const term of row.terms) {
    const size = solution.equations.sizes[term.block]!;
    termRows(term, rows, size, matrix);
    for (let r = 0; r < rows; r += 1)
      for (let c = 0; c < size; c += 1)
        computed[r]! += matrix[r * size + c]! * solution.unknowns[solution.starts[term.block]! + c]!;
  }
  return computed;
}

interface Design {
  readonly matrix: Float64Array;
  readonly columns: number;
}

/** How each control point moves with the datum: A Q of the datum's stations over the variance they are held with. */
function shiftDesign(
  free: SolvedNetwork,
  network: Network,
  anchors: readonly number[],
  carried: readonly Carried[],
  starts: readonly number[],
): Design {
  const { solution, list } = free;
  const held = anchors.map((index) => list.indexOf.get(network.control[index]!.id)!);
  const sizes = held.map((block) => solution.equations.sizes[block]!);
  const columns = sizes.reduce((sum, size) => sum + size, 0);
  const matrix = new Float64Array(starts.at(-1)! * columns);
  let first = 0;
  held.forEach((block, at) => {
    const path = pathOf(solution.factor, block);
    carried.forEach((row, i) => {
      for (const part of row) {
        const q = crossCofactor(solution.factor, part.path, path);
        for (let r = 0; r < part.rows; r += 1)
          for (let c = 0; c < sizes[at]!; c += 1)
            for (let s = 0; s < part.size; s += 1)
              matrix[(starts[i]! + r) * columns + first + c]! +=
                (part.matrix[r * part.size + s]! * q[s * sizes[at]! + c]!) / FIXED_SIGMA_M ** 2;
      }
    });
    first += sizes[at]!;
  });
  return { matrix, columns };
}

/** Fits the shift and tests what is left. */
function withShift(
  weight: Float64Array,
  { matrix, columns }: Design,
  d: Float64Array,
  starts: readonly number[],
  tested: readonly number[],
): ControlTests {
  const n = d.length;
  const wg = new Float64Array(n * columns);
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j < n; j += 1)
      for (let c = 0; c < columns; c += 1) wg[i * columns + c]! += weight[i * n + j]! * matrix[j * columns + c]!;
  const normal = new Float64Array(columns * columns);
  for (let j = 0; j < n; j += 1)
    for (let a = 0; a < columns; a += 1)
      for (let b = 0; b < columns; b += 1) normal[a * columns + b]! += matrix[j * columns + a]! * wg[j * columns + b]!;
  const factor = choleskyFactor(normal, columns);
  if (factor === null) throw new InternalError('the control does not hold the network it is tested against');
  const inverse = choleskyInverse(factor, columns);
  const shift = new Float64Array(columns);
  for (let a = 0; a < columns; a += 1)
    for (let b = 0; b < columns; b += 1)
      for (let j = 0; j < n; j += 1) shift[a]! += inverse[a * columns + b]! * wg[j * columns + b]! * d[j]!;
  const left = Float64Array.from(d, (value, i) => {
    let fitted = 0;
    for (let c = 0; c < columns; c += 1) fitted += matrix[i * columns + c]! * shift[c]!;
    return value - fitted;
  });
  const forces = new Float64Array(n);
  for (let i = 0; i < n; i += 1) for (let j = 0; j < n; j += 1) forces[i]! += weight[i * n + j]! * left[j]!;
  let together = 0;
  for (let i = 0; i < n; i += 1) together += left[i]! * forces[i]!;
  const points = tested.map((index, k): ControlTest => {
    const start = starts[k]!;
    const m = starts[k + 1]! - start;
    const own = new Float64Array(m * m);
    const spread = new Float64Array(m * m);
    for (let r = 0; r < m; r += 1)
      for (let s = 0; s < m; s += 1) {
        own[r * m + s] = weight[(start + r) * n + start + s]!;
        spread[r * m + s] = own[r * m + s]!;
        for (let a = 0; a < columns; a += 1)
          for (let b = 0; b < columns; b += 1)
            spread[r * m + s]! -=
              wg[(start + r) * columns + a]! * inverse[a * columns + b]! * wg[(start + s) * columns + b]!;
      }
    const evidence = blockEvidence(own, spread, forces.subarray(start, start + m), m, NO_SHARE);
    return {
      index,
      differenceM: left.slice(start, start + m),
      // Here the network is the computed and the control the observed: d is of the sign of a residual.
      othersMinusStatedM: evidence.othersMinusObserved,
      test: evidence.blockTest,
      checkedDirections: evidence.checkedDirections,
    };
  });
  return { points, together, degreesOfFreedom: n - columns };
}

function inverseOf(weight: ArrayLike<number>, m: number): Float64Array {
  const factor = choleskyFactor(Float64Array.from(weight), m);
  if (factor === null) throw new InternalError('the weight of a control point is not positive definite');
  return choleskyInverse(factor, m);
}
