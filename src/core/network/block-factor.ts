import { startsOf, termRows } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import { eliminationOrder } from './elimination-order.js';
import type { EliminationOrder } from './elimination-order.js';
import { inverseOfSmall } from './small-inverse.js';

/** The numbers of a sparse symmetric matrix in blocks, in the places that its factor fills. */
export interface BlockPanels {
  /** Of each place, its diagonal block, row by row. */
  readonly diagonal: Float64Array[];
  /** Of each place, the rows below the diagonal, all blocks of `below` one after the other, row by row. */
  readonly lower: Float64Array[];
}

/** N = L D Lᵀ in blocks. */
export interface BlockFactor {
  readonly order: EliminationOrder;
  readonly sizes: ArrayLike<number>;
  /** Of each place: unknowns of the block there. */
  readonly widths: Int32Array;
  /** Of each place: where the rows of each block of `below` begin in its panel; at the end how many rows there are. */
  readonly offsets: readonly Int32Array[];
  /** D⁻¹ as `diagonal`, L as `lower`. */
  readonly panels: BlockPanels;
}

/** The factor; or the block at which the normal equations turn out not to determine the unknowns. */
export type FactorResult =
  { readonly ok: true; readonly factor: BlockFactor } | { readonly ok: false; readonly block: number };

/** A pivot that keeps less than this of its diagonal term says that nothing determines the unknown. */
const LEAST_PIVOT = 1e-12;

/**
 * Forms the normal equations N = Aᵀ P A and factors them, blocks of least degree first.
 *
 * Given: the equations; the order of an earlier factor of equations that meet the same blocks, null: it is found.
 * Returned: the factor, or the block that is not determined. Reference: DAVIS-2006 (from memory), in blocks.
 */
export function factorNormals(equations: BlockEquations, known: EliminationOrder | null = null): FactorResult {
  const { sizes, observations } = equations;
  const order =
    known ??
    eliminationOrder(
      sizes.length,
      observations.map(({ terms }) => terms.map(({ block }) => block)),
    );
  const widths = Int32Array.from(order.blockAt, (block) => sizes[block]!);
  const offsets = order.below.map((places) => startsOf(Int32Array.from(places, (place) => widths[place]!)));
  const panels: BlockPanels = {
    diagonal: Array.from(widths, (width) => new Float64Array(width * width)),
    lower: offsets.map((offset, place) => new Float64Array(offset.at(-1)! * widths[place]!)),
  };
  const factor: BlockFactor = { order, sizes, widths, offsets, panels };
  assemble(equations, factor);
  const failed = eliminate(factor);
  return failed === null ? { ok: true, factor } : { ok: false, block: order.blockAt[failed]! };
}

/** Where the rows of a later place begin in the panel of an earlier one. */
export function rowsAt({ order, offsets }: BlockFactor, column: number, place: number): number {
  const below = order.below[column]!;
  let low = 0;
  let high = below.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (below[middle]! < place) low = middle + 1;
    else high = middle;
  }
  return offsets[column]![low]!;
}

function assemble({ sizes, observations }: BlockEquations, factor: BlockFactor): void {
  const { order, panels } = factor;
  const rowsOf: Float64Array[] = [];
  const weighted = new Float64Array(64);
  for (const { terms, observed, weight } of observations) {
    const m = observed.length;
    terms.forEach((term, index) => {
      const size = sizes[term.block]!;
      const own = (rowsOf[index] ??= new Float64Array(64));
      termRows(term, m, size, own);
    });
    for (let t = 0; t < terms.length; t += 1) {
      const block = terms[t]!.block;
      const size = sizes[block]!;
      const column = order.placeOf[block]!;
      const own = rowsOf[t]!;
      for (let r = 0; r < m; r += 1) {
        for (let c = 0; c < size; c += 1) {
          let sum = 0;
          for (let s = 0; s < m; s += 1) sum += weight[r * m + s]! * own[s * size + c]!;
          weighted[r * size + c] = sum;
        }
      }
      for (let u = 0; u < terms.length; u += 1) {
        const other = terms[u]!.block;
        const row = order.placeOf[other]!;
        if (row < column) continue;
        const rows = sizes[other]!;
        const target = row === column ? panels.diagonal[column]! : panels.lower[column]!;
        const start = row === column ? 0 : rowsAt(factor, column, row) * size;
        const others = rowsOf[u]!;
        for (let a = 0; a < rows; a += 1) {
          for (let c = 0; c < size; c += 1) {
            let sum = 0;
            for (let r = 0; r < m; r += 1) sum += others[r * rows + a]! * weighted[r * size + c]!;
            target[start + a * size + c]! += sum;
          }
        }
      }
    }
  }
}

/** Turns the panels of N into those of D⁻¹ and L. Returned: null, or the place that is not determined. */
function eliminate(factor: BlockFactor): number | null {
  const { order, widths, offsets, panels } = factor;
  const scales = panels.diagonal.map((block, place) => diagonalOf(block, widths[place]!));
  for (let k = 0; k < widths.length; k += 1) {
    const width = widths[k]!;
    const inverse = inverseOfSmall(panels.diagonal[k]!, width, scales[k]!, LEAST_PIVOT);
    if (inverse === null) return k;
    panels.diagonal[k] = inverse;
    const full = panels.lower[k]!;
    const reduced = new Float64Array(full.length);
    const rows = offsets[k]!.at(-1)!;
    for (let r = 0; r < rows; r += 1) {
      for (let c = 0; c < width; c += 1) {
        let sum = 0;
        for (let s = 0; s < width; s += 1) sum += full[r * width + s]! * inverse[s * width + c]!;
        reduced[r * width + c] = sum;
      }
    }
    const below = order.below[k]!;
    for (let j = 0; j < below.length; j += 1) subtractColumn(factor, k, j, full, reduced, below);
    panels.lower[k] = reduced;
  }
  return null;
}

/** Takes the product with block j of column k off the column of that block. */
function subtractColumn(
  { order, widths, offsets, panels }: BlockFactor,
  k: number,
  j: number,
  full: Float64Array,
  reduced: Float64Array,
  below: Int32Array,
): void {
  const width = widths[k]!;
  const column = below[j]!;
  const columnWidth = widths[column]!;
  const from = offsets[k]![j]!;
  const targetBelow = order.below[column]!;
  const targetOffsets = offsets[column]!;
  let at = 0;
  for (let i = j; i < below.length; i += 1) {
    const row = below[i]!;
    const isDiagonal = i === j;
    if (!isDiagonal) while (targetBelow[at]! < row) at += 1;
    const target = isDiagonal ? panels.diagonal[column]! : panels.lower[column]!;
    const start = isDiagonal ? 0 : targetOffsets[at]!;
    const first = offsets[k]![i]!;
    const rows = widths[row]!;
    for (let a = 0; a < rows; a += 1) {
      for (let b = 0; b < columnWidth; b += 1) {
        let sum = 0;
        for (let s = 0; s < width; s += 1) sum += reduced[(first + a) * width + s]! * full[(from + b) * width + s]!;
        target[(start + a) * columnWidth + b]! -= sum;
      }
    }
  }
}

function diagonalOf(block: Float64Array, width: number): Float64Array {
  return Float64Array.from({ length: width }, (_, at) => block[at * width + at]!);
}
