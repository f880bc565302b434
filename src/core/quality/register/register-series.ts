/** One control point seen in one set-up, one axis. */
export interface RegisterRow {
  /** Place of the mark in `RegisterSeries.markM2`. */
  readonly mark: number;
  /** Measured minus control, metres. */
  readonly residualM: number;
  /** Variance that no other row shares, m². */
  readonly ownM2: number;
}

/** What one base set-up saw of the control: a day, unless bases were moved within it. */
export interface RegisterEpoch {
  /** Place of the base mark in `RegisterSeries.baseM2`. */
  readonly base: number;
  /** Variance that all rows of the set-up share: centring and antenna height, m². */
  readonly sharedM2: number;
  /** At most one of each mark. */
  readonly rows: readonly RegisterRow[];
}

/** Residuals of one axis at control over many set-ups, in the order of time. */
export interface RegisterSeries {
  readonly epochs: readonly RegisterEpoch[];
  /** Variance of each mark's control coordinate, the same error in every epoch, m²; null: not stated. */
  readonly markM2: readonly (number | null)[];
  /** Variance of each base mark's coordinate, the same error in every epoch, m². */
  readonly baseM2: readonly number[];
}

/**
 * Variance of a control coordinate whose sigma nobody states, m²: so large against a residual that the first one says
 * nothing but where the mark is. An assumption.
 */
const UNSTATED_M2 = 100;

/** The variance of a mark's coordinate that is reckoned with, m². */
export function markVarianceM2(series: RegisterSeries, mark: number): number {
  return series.markM2[mark] ?? UNSTATED_M2;
}
