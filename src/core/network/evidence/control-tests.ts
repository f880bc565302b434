import { choleskyFactor, choleskyInverse } from '../../numeric/linear-solve.js';
import { InternalError } from '../../../records/internal-error.js';
import { entryAt, present } from '../../../records/present.js';
import { MOST_ROWS } from '../blocks/adjust-blocks.js';
import { predicted, rowsOf, termRows } from '../blocks/block-equations.js';
import type { BlockEquations } from '../blocks/block-equations.js';
import { createEvidence } from './block-evidence.js';
import { crossCofactor, pathOf } from '../blocks/factor-paths.js';
import type { BlockPath } from '../blocks/factor-paths.js';
import { FIXED_SIGMA_M } from '../network.js';
import type { Network } from '../network.js';
import { networkEquations } from '../equations/network-equations.js';
import type { SolvedNetwork } from '../solve-network.js';

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
    control: tested.map((index) => ({ point: entryAt(network.control, index), index })),
    leftOut: { has: (kind) => kind !== 'control' },
  });
  const { equations } = built;
  const { count, rowStarts } = equations;
  const paths = new Map<number, BlockPath>();
  const path = (block: number): BlockPath => {
    const found = paths.get(block) ?? pathOf(solution.factor, block);
    paths.set(block, found);
    return found;
  };
  const carried = Array.from({ length: count }, (_, index) => carry(equations, index, path));
  const n = rowStarts[count]!;
  const covariance = new Float64Array(n * n);
  const d = new Float64Array(n);
  const computed = new Float64Array(MOST_ROWS);
  for (let i = 0; i < count; i += 1) {
    const own = inverseOf(equations, i);
    const m = rowsOf(equations, i);
    for (let j = 0; j <= i; j += 1) {
      const block = crossOf(free, entryAt(carried, i), entryAt(carried, j));
      const columns = rowsOf(equations, j);
      for (let a = 0; a < m; a += 1)
        for (let b = 0; b < columns; b += 1) {
          const value = block[a * columns + b]! + (i === j ? own[a * columns + b]! : 0);
          covariance[(rowStarts[i]! + a) * n + rowStarts[j]! + b] = value;
          covariance[(rowStarts[j]! + b) * n + rowStarts[i]! + a] = value;
        }
    }
    predicted(equations, i, solution.unknowns, computed);
    for (let row = rowStarts[i]!; row < rowStarts[i + 1]!; row += 1)
      d[row] = computed[row - rowStarts[i]!]! - equations.observed[row]!;
  }
  const factor = choleskyFactor(covariance, n);
  if (factor === null) throw new InternalError('the covariance of the control is not positive definite');
  const weight = choleskyInverse(factor, n);
  const design = shiftDesign(free, network, anchors, carried, rowStarts);
  return withShift(weight, design, d, rowStarts, tested);
}

/** A row with the path of each of its blocks. */
type Carried = readonly {
  readonly matrix: Float64Array;
  readonly path: BlockPath;
  readonly rows: number;
  readonly size: number;
}[];

function carry(equations: BlockEquations, index: number, path: (block: number) => BlockPath): Carried {
  const { sizes, termStarts, termBlocks } = equations;
  const rows = rowsOf(equations, index);
  return Array.from({ length: termStarts[index + 1]! - termStarts[index]! }, (_, at) => {
    const term = termStarts[index]! + at;
    const block = termBlocks[term]!;
    const size = sizes[block]!;
    const matrix = new Float64Array(rows * size);
    termRows(equations, term, rows, matrix);
    return { matrix, path: path(block), rows, size };
  });
}

/** A_i Q A_jᵀ, row by row. */
function crossOf({ solution }: SolvedNetwork, first: Carried, second: Carried): Float64Array {
  const rows = entryAt(first, 0).rows;
  const columns = entryAt(second, 0).rows;
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
  starts: Int32Array,
): Design {
  const { solution, list } = free;
  const held = anchors.map((index) =>
    present(list.indexOf.get(entryAt(network.control, index).id), 'the station of the datum'),
  );
  const sizes = held.map((block) => entryAt(solution.equations.sizes, block));
  const columns = sizes.reduce((sum, size) => sum + size, 0);
  const matrix = new Float64Array(starts[carried.length]! * columns);
  let first = 0;
  held.forEach((block, at) => {
    const path = pathOf(solution.factor, block);
    const size = entryAt(sizes, at);
    carried.forEach((row, i) => {
      for (const part of row) {
        const q = crossCofactor(solution.factor, part.path, path);
        for (let r = 0; r < part.rows; r += 1)
          for (let c = 0; c < size; c += 1)
            for (let s = 0; s < part.size; s += 1)
              matrix[(starts[i]! + r) * columns + first + c]! +=
                (part.matrix[r * part.size + s]! * q[s * size + c]!) / FIXED_SIGMA_M ** 2;
      }
    });
    first += size;
  });
  return { matrix, columns };
}

/** Fits the shift and tests what is left. */
function withShift(
  weight: Float64Array,
  { matrix, columns }: Design,
  d: Float64Array,
  starts: Int32Array,
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
  const finder = createEvidence(MOST_ROWS);
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
    const evidence = finder.find(own, 0, spread, forces.subarray(start, start + m), m, NO_SHARE);
    return {
      index,
      differenceM: left.slice(start, start + m),
      // Here the network is the computed and the control the observed: d is of the sign of a residual.
      othersMinusStatedM: evidence.othersMinusObserved.slice(0, m),
      test: evidence.lost,
      checkedDirections: evidence.checkedDirections,
    };
  });
  return { points, together, degreesOfFreedom: n - columns };
}

/** The covariance of the numbers of one row. */
function inverseOf(equations: BlockEquations, index: number): Float64Array {
  const m = rowsOf(equations, index);
  const from = equations.weightStarts[index]!;
  const factor = choleskyFactor(equations.weights.slice(from, from + m * m), m);
  if (factor === null) throw new InternalError('the weight of a control point is not positive definite');
  return choleskyInverse(factor, m);
}
