import { choleskyFactor, choleskyInverse } from '../../numeric/linear-solve.js';
import { InternalError } from '../../../records/internal-error.js';
import { markVarianceM2 } from './register-series.js';
import type { RegisterEpoch, RegisterSeries } from './register-series.js';

/** What one epoch says beyond all before it, in sigmas. */
export interface EpochInnovation {
  /** All marks of the epoch together. */
  readonly base: number;
  /** Each row beside the others of its epoch; null where it is alone, so that nothing tells mark from base. */
  readonly marks: readonly (number | null)[];
}

/** Offsets that stay: of each mark, then of each base. */
interface Offsets {
  readonly estimate: Float64Array;
  readonly covariance: Float64Array;
}

/**
 * What each epoch says that those before it did not, standardised: the deviations that control charts add up.
 *
 * Every mark and base has an unknown offset that stays (the errors of their coordinates); all epochs before give its
 * estimate. The innovation is the epoch's residuals minus that prediction, S its covariance: what is not yet known of the
 * offsets, the rows' own errors, the set-up's. Of it, z = 1ᵀS⁻¹v / √(1ᵀS⁻¹1) is for what all marks do together, and
 * z = (Mv)ᵢ / √Mᵢᵢ with M = S⁻¹ − S⁻¹11ᵀS⁻¹/(1ᵀS⁻¹1) for mark i whatever all do together.
 *
 * Given: residuals with variances; own variances above zero. Returned: one item an epoch. While nothing moves, each z is
 * normal with mean 0 and variance 1, and independent over epochs.
 *
 * Notes: 1. The first epoch is judged by the stated sigma of the control. 2. After a movement the offsets slowly learn
 * it: a chart finds a change soon or late, not never, but less surely the longer ago.
 *
 * Reference: recursive residuals, BROWN-DURBIN-EVANS-1975 (from memory).
 */
export function registerInnovations(series: RegisterSeries): readonly EpochInnovation[] {
  const marks = series.markM2.length;
  const size = marks + series.baseM2.length;
  const covariance = new Float64Array(size * size);
  for (let i = 0; i < size; i += 1)
    covariance[i * size + i] = i < marks ? markVarianceM2(series, i) : (series.baseM2[i - marks] as number);
  const offsets: Offsets = { estimate: new Float64Array(size), covariance };
  return series.epochs.map((epoch) => innovationOf(epoch, offsets, marks, size));
}

/** The innovation of an epoch; the offsets learn from it. */
function innovationOf(epoch: RegisterEpoch, offsets: Offsets, marks: number, size: number): EpochInnovation {
  const { rows, sharedM2 } = epoch;
  const { estimate, covariance } = offsets;
  const count = rows.length;
  const base = marks + epoch.base;
  const at = (i: number, j: number): number => covariance[i * size + j] as number;
  /** Covariance of each offset with each row's prediction. */
  const gainOf = new Float64Array(size * count);
  for (let i = 0; i < size; i += 1)
    for (const [row, { mark }] of rows.entries()) gainOf[i * count + row] = at(i, mark) + at(i, base);
  const total = new Float64Array(count * count);
  const innovation = new Float64Array(count);
  for (const [row, { mark, residualM, ownM2 }] of rows.entries()) {
    innovation[row] = residualM - (estimate[mark] as number) - (estimate[base] as number);
    for (let other = 0; other < count; other += 1)
      total[row * count + other] =
        (gainOf[mark * count + other] as number) +
        (gainOf[base * count + other] as number) +
        sharedM2 +
        (other === row ? ownM2 : 0);
  }
  const factor = choleskyFactor(total, count);
  if (factor === null) throw new InternalError('the covariance of a day at control is not positive');
  const weight = choleskyInverse(factor, count);
  const said = standardised(weight, innovation, count);
  learn(offsets, gainOf, weight, innovation, size, count);
  return said;
}

function standardised(weight: Float64Array, innovation: Float64Array, count: number): EpochInnovation {
  const sums = new Float64Array(count);
  const weighted = new Float64Array(count);
  let together = 0;
  let moved = 0;
  for (let i = 0; i < count; i += 1) {
    for (let j = 0; j < count; j += 1) {
      sums[i] = (sums[i] as number) + (weight[i * count + j] as number);
      weighted[i] = (weighted[i] as number) + (weight[i * count + j] as number) * (innovation[j] as number);
    }
    together += sums[i] as number;
    moved += weighted[i] as number;
  }
  return {
    base: moved / Math.sqrt(together),
    marks: Array.from(weighted, (value, i) => {
      if (count === 1) return null;
      const sum = sums[i] as number;
      const variance = (weight[i * count + i] as number) - (sum * sum) / together;
      return (value - (sum * moved) / together) / Math.sqrt(variance);
    }),
  };
}

/** The offsets after an epoch: estimate and covariance, by least squares. */
function learn(
  { estimate, covariance }: Offsets,
  gainOf: Float64Array,
  weight: Float64Array,
  innovation: Float64Array,
  size: number,
  count: number,
): void {
  const gain = new Float64Array(size * count);
  for (let i = 0; i < size; i += 1)
    for (let row = 0; row < count; row += 1) {
      let sum = 0;
      for (let other = 0; other < count; other += 1)
        sum += (gainOf[i * count + other] as number) * (weight[other * count + row] as number);
      gain[i * count + row] = sum;
    }
  for (let i = 0; i < size; i += 1) {
    for (let row = 0; row < count; row += 1)
      estimate[i] = (estimate[i] as number) + (gain[i * count + row] as number) * (innovation[row] as number);
    for (let j = 0; j <= i; j += 1) {
      let less = 0;
      for (let row = 0; row < count; row += 1)
        less += (gain[i * count + row] as number) * (gainOf[j * count + row] as number);
      const left = (covariance[i * size + j] as number) - less;
      covariance[i * size + j] = left;
      covariance[j * size + i] = left;
    }
  }
}
