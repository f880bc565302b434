/** One value in a chart, with the sums after it. */
export interface ChartStep {
  /** What the values have gone up beyond the allowance since the upper sum was last zero; never below 0. */
  readonly upper: number;
  /** The same downwards, counted positive. */
  readonly lower: number;
}

/** Where a chart says that the mean is no longer what it was. */
export interface ChartSignal {
  /** Place of the first value whose sum is above the limit, from 0. */
  readonly at: number;
  readonly direction: 'up' | 'down';
  /** Place of the first value since that sum was last zero: where the change began, as the chart sees it. */
  readonly began: number;
}

export interface CusumChart {
  /** One a value, in order. */
  readonly steps: readonly ChartStep[];
  /** Null: no sum was ever above the limit. */
  readonly signal: ChartSignal | null;
}

/** Allowance of the chart, in sigmas: half the shift it is to find soonest. */
export const CUSUM_ALLOWANCE = 0.5;
/** Limit of the sums, in sigmas. A chart of true values crosses it once in 465 on average. */
export const CUSUM_LIMIT = 5;

/**
 * Two-sided cumulative sum chart in its table form: Sᵤ ← max(0, Sᵤ + z − k), Sₗ ← max(0, Sₗ − z − k); a signal where one is
 * above h.
 *
 * Given: deviations from the target in order, in sigmas (or any unit that k and h share), null where there is none that
 * day: the sums stay; k; h. Returned: the sums after each value, and the first signal.
 *
 * Note: the sums go on after a signal, so that the chart can be drawn to its end.
 * Reference: NIST-HANDBOOK 6.3.2.3 (from memory); PAGE-1954.
 *
 * @example
 * cusumChart([3, 3, 3], 0.5, 5).signal; // { at: 2, direction: 'up', began: 0 }
 */
export function cusumChart(
  deviations: readonly (number | null)[],
  k: number = CUSUM_ALLOWANCE,
  h: number = CUSUM_LIMIT,
): CusumChart {
  const steps: ChartStep[] = [];
  let upper = 0;
  let lower = 0;
  let upperBegan = 0;
  let lowerBegan = 0;
  let signal: ChartSignal | null = null;
  for (const [at, deviation] of deviations.entries()) {
    if (deviation !== null) {
      if (upper === 0) upperBegan = at;
      if (lower === 0) lowerBegan = at;
      upper = Math.max(0, upper + deviation - k);
      lower = Math.max(0, lower - deviation - k);
    }
    steps.push({ upper, lower });
    if (signal !== null) continue;
    if (upper > h) signal = { at, direction: 'up', began: upperBegan };
    else if (lower > h) signal = { at, direction: 'down', began: lowerBegan };
  }
  return { steps, signal };
}
