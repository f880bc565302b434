import { InternalError } from '../../../records/internal-error.js';

/**
 * Σᵢ Σⱼ wᵢ wⱼ exp(−|tᵢ − tⱼ|/τ): variance of Σ wᵢ xᵢ, in units of the variance of one x, where the x
 * follow a first-order Gauss–Markov process of correlation time τ. Exact at any spacing in one pass:
 * Sᵢ = (Sᵢ₋₁ + wᵢ₋₁)·exp(−Δt/τ), result Σwᵢ² + 2 Σ wᵢ Sᵢ.
 *
 * Given: times, seconds, never falling; weights of any sign; τ, seconds, 0 meaning no correlation.
 */
export function correlatedQuadraticForm(timesS: ArrayLike<number>, weights: ArrayLike<number>, tauS: number): number {
  let squares = 0;
  let cross = 0;
  let carried = 0;
  let previousS = timesS[0] as number;
  let previousWeight = 0;
  let previousStepS = -1;
  let decay = 0;
  for (let i = 0; i < timesS.length; i += 1) {
    const timeS = timesS[i] as number;
    const weight = weights[i] as number;
    const stepS = timeS - previousS;
    if (stepS < 0) throw new InternalError('times of epochs fall');
    if (stepS !== previousStepS) {
      decay = tauS > 0 ? Math.exp(-stepS / tauS) : stepS === 0 ? 1 : 0;
      previousStepS = stepS;
    }
    carried = (carried + previousWeight) * decay;
    squares += weight * weight;
    cross += weight * carried;
    previousS = timeS;
    previousWeight = weight;
  }
  return squares + 2 * cross;
}

/**
 * Variance of a weighted mean of epochs, in units of the variance of one epoch: 1 where they are one
 * (or fully correlated), 1/n where n equal weights are independent.
 *
 * Given: times, seconds, never falling; weights ≥ 0, null: equal; correlation time τ, seconds.
 *
 * Reference: variance of a linear combination under exp(−|Δt|/τ); closed form for equal spacing:
 * `varianceInflation`.
 */
export function varianceFactor(timesS: ArrayLike<number>, weights: ArrayLike<number> | null, tauS: number): number {
  const count = timesS.length;
  if (count === 0) throw new InternalError('the mean of no epochs');
  const used = weights ?? new Float64Array(count).fill(1);
  let sum = 0;
  for (let i = 0; i < count; i += 1) sum += used[i] as number;
  if (!(sum > 0)) throw new InternalError('the weights of a mean do not sum to more than zero');
  return correlatedQuadraticForm(timesS, used, tauS) / (sum * sum);
}

/**
 * Variance inflation of the mean of n equally spaced epochs: how many times the variance of the mean
 * exceeds σ²/n. VIF = (1+ρ)/(1−ρ) − 2ρ(1−ρⁿ)/(n(1−ρ)²), ρ = exp(−Δt/τ).
 *
 * Given: n ≥ 1; spacing and correlation time, seconds, τ = 0 meaning no correlation. Returned: 1 to n.
 */
export function varianceInflation(count: number, stepS: number, tauS: number): number {
  if (count <= 1) return 1;
  if (tauS <= 0) return 1;
  const ratio = stepS / tauS;
  if (count * ratio < 1e-4) return count - (ratio * (count * count - 1)) / 3;
  const loss = -Math.expm1(-ratio);
  const rho = 1 - loss;
  const lossAll = -Math.expm1(-count * ratio);
  return (1 + rho) / loss - (2 * rho * lossAll) / (count * loss * loss);
}
