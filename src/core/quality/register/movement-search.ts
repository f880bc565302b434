import { choleskyFactor, choleskyInverse } from '../../numeric/linear-solve.js';
import { InternalError } from '../../../records/internal-error.js';
import { markVarianceM2 } from './register-series.js';
import type { RegisterSeries } from './register-series.js';

/** A step in one axis of one mark, or of one base and with it of all marks seen from it. */
export interface Movement {
  readonly what: 'mark' | 'base';
  /** Its place in the series. */
  readonly index: number;
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
  /** The best step of each mark and base that could have one, the best first. */
  readonly best: readonly Movement[];
  /** Steps tried. */
  readonly tried: number;
}

/** Rows beyond this many make the search too slow to wait for: 40 days of 50 marks. */
export const MOST_REGISTER_ROWS = 2000;

/**
 * Where one step explains the residuals of an axis best: for each mark and each base, from each epoch after its first.
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
  const weight = choleskyInverse(factor, count);
  const weighted = rows.map((_, i) =>
    rows.reduce((sum, { residualM }, j) => sum + (weight[i * count + j] as number) * residualM, 0),
  );
  let tried = 0;
  const bestOf = (what: Movement['what'], index: number): Movement | null => {
    const own = rows.flatMap((row, i) => (row[what] === index ? [i] : []));
    const epochs = [...new Set(own.map((i) => (rows[i] as (typeof rows)[number]).epoch))];
    let best: Movement | null = null;
    let moved = 0;
    let strength = 0;
    let next = own.length;
    // From the last epoch backwards, each step is the one before it and one epoch more.
    for (let place = epochs.length - 1; place > 0; place -= 1) {
      const from = epochs[place] as number;
      while (next > 0 && (rows[own[next - 1] as number] as (typeof rows)[number]).epoch >= from) {
        next -= 1;
        const i = own[next] as number;
        moved += weighted[i] as number;
        strength += weight[i * count + i] as number;
        for (let k = next + 1; k < own.length; k += 1)
          strength += 2 * (weight[i * count + (own[k] as number)] as number);
      }
      tried += 1;
      const gain = (moved * moved) / strength;
      if (best === null || gain > best.gain)
        best = {
          what,
          index,
          from,
          epochs: epochs.length - place,
          sizeM: moved / strength,
          sigmaM: 1 / Math.sqrt(strength),
          gain,
        };
    }
    return best;
  };
  const found = [
    ...series.markM2.map((_, index) => bestOf('mark', index)),
    ...series.baseM2.map((_, index) => bestOf('base', index)),
  ];
  return { best: found.filter((movement) => movement !== null).sort((a, b) => b.gain - a.gain), tried };
}
