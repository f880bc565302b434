import { choleskyFactor, choleskyInverse } from '../../numeric/linear-solve.js';
import { InternalError } from '../../../records/internal-error.js';
import { markVarianceM2 } from './register-series.js';
import type { RegisterEpoch, RegisterRow, RegisterSeries } from './register-series.js';

/** A displacement in one axis of one mark, or of one base and with it of all marks seen from it. */
export interface Movement {
  readonly what: 'mark' | 'base';
  /** Its place in the series. */
  readonly index: number;
  /** step: from an epoch on; alone: in one epoch that others follow, as a height typed wrong that day. */
  readonly kind: 'step' | 'alone';
  /** Place of the first epoch with it. */
  readonly from: number;
  /** Epochs with it. */
  readonly epochs: number;
  /** Metres, in the sense of the residuals. */
  readonly sizeM: number;
  readonly sigmaM: number;
  /** What it takes off the weighted sum of squares: χ² with one degree of freedom where nothing moves. */
  readonly gain: number;
}

/** What the search found. */
export interface MovementSearch {
  /** The best step of each mark and base that could have one, and the best displacement of one epoch alone; the best first. */
  readonly best: readonly Movement[];
  /** Displacements tried. */
  readonly tried: number;
}

/** Rows beyond this many make the search too slow to wait for: 40 days of 50 marks. */
export const MOST_REGISTER_ROWS = 2000;

/**
 * Where one displacement explains the residuals of an axis best: for each mark and each base a step from each epoch after its
 * first, and a displacement of each epoch but the last alone (of the last both are one).
 *
 * Residuals have the covariance of rows, set-ups, control coordinates and base coordinates, all stated. A step h takes
 * (hᵀV⁻¹r)² / (hᵀV⁻¹h) off rᵀV⁻¹r.
 *
 * Given: residuals with variances; own variances above zero; 2,000 rows at most. Returned: see `MovementSearch`.
 *
 * Note: a step of a mark that is seen alone from its base cannot be told from one of the base; both then have one gain.
 *
 * Reference: Baarda's test of one alternative, BAARDA-1968.
 */
export function searchMovements(series: RegisterSeries): MovementSearch {
  const rows = series.epochs.flatMap(({ base, sharedM2, rows: own }, epoch) =>
    own.map((row) => ({ ...row, base, sharedM2, epoch })),
  );
  const count = rows.length;
  const weight = weightsOf(rows, series);
  const weighted = rows.map((_, i) =>
    rows.reduce((sum, { residualM }, j) => sum + (weight[i * count + j] as number) * residualM, 0),
  );
  let tried = 0;
  const bestOf = (what: Movement['what'], index: number): readonly Movement[] => {
    const own = rows.flatMap((row, i) => (row[what] === index ? [i] : []));
    const epochs = [...new Set(own.map((i) => (rows[i] as (typeof rows)[number]).epoch))];
    let best: Movement | null = null;
    let alone: Movement | null = null;
    let moved = 0;
    let strength = 0;
    let next = own.length;
    // From the last epoch backwards, each step is the one before it and one epoch more.
    for (let place = epochs.length - 1; place >= 0 && epochs.length > 1; place -= 1) {
      const from = epochs[place] as number;
      let ownMoved = 0;
      let ownStrength = 0;
      const last = next;
      while (next > 0 && (rows[own[next - 1] as number] as (typeof rows)[number]).epoch >= from) {
        next -= 1;
        const i = own[next] as number;
        ownMoved += weighted[i] as number;
        const alike = weight[i * count + i] as number;
        strength += alike;
        ownStrength += alike;
        for (let k = next + 1; k < own.length; k += 1) {
          const shared = 2 * (weight[i * count + (own[k] as number)] as number);
          strength += shared;
          if (k < last) ownStrength += shared;
        }
      }
      moved += ownMoved;
      const at = { what, index, from };
      if (place > 0) {
        tried += 1;
        best = greater(best, { ...at, kind: 'step', epochs: epochs.length - place, ...sized(moved, strength) });
      }
      // Of the last epoch a step is the same.
      if (place < epochs.length - 1) {
        tried += 1;
        alone = greater(alone, { ...at, kind: 'alone', epochs: 1, ...sized(ownMoved, ownStrength) });
      }
    }
    return [best, alone].filter((movement) => movement !== null);
  };
  const found = [
    ...series.markM2.flatMap((_, index) => bestOf('mark', index)),
    ...series.baseM2.flatMap((_, index) => bestOf('base', index)),
  ];
  return { best: found.sort((a, b) => b.gain - a.gain), tried };
}

/** A row with what its epoch says of it. */
type PlacedRow = RegisterRow & Pick<RegisterEpoch, 'base' | 'sharedM2'> & { readonly epoch: number };

/** V⁻¹ of all rows, row by row. */
function weightsOf(rows: readonly PlacedRow[], series: RegisterSeries): Float64Array {
  const count = rows.length;
  const total = new Float64Array(count * count);
  for (const [i, a] of rows.entries())
    for (const [j, b] of rows.entries()) {
      if (j > i) break;
      total[i * count + j] =
        (i === j ? a.ownM2 : 0) +
        (a.epoch === b.epoch ? a.sharedM2 : 0) +
        (a.mark === b.mark ? markVarianceM2(series, a.mark) : 0) +
        (a.base === b.base ? (series.baseM2[a.base] as number) : 0);
    }
  const factor = choleskyFactor(total, count);
  if (factor === null) throw new InternalError('the covariance of a register is not positive');
  return choleskyInverse(factor, count);
}

/** What hᵀV⁻¹r and hᵀV⁻¹h say of a displacement h. */
function sized(moved: number, strength: number): Pick<Movement, 'sizeM' | 'sigmaM' | 'gain'> {
  return { sizeM: moved / strength, sigmaM: 1 / Math.sqrt(strength), gain: (moved * moved) / strength };
}

/** The later one only where it explains more. */
function greater(best: Movement | null, other: Movement): Movement {
  return best === null || other.gain > best.gain ? other : best;
}
