/** What the repeats of a day say of the planning model over baselines of one class of length. */
export interface DayVariance {
  readonly fromM: number;
  /** Infinity: no end. */
  readonly toM: number;
  /** Points whose repeats say it, and the contrasts of these. */
  readonly points: number;
  readonly degreesOfFreedom: number;
  /** What the model's variances are to be multiplied by, and its 95 % interval, whose upper end may be Infinity. */
  readonly factor: number;
  readonly low95: number;
  readonly high95: number;
  readonly isNoisier: boolean;
  /** The covariances written hold the factor. */
  readonly isApplied: boolean;
  /** Points that differ by more than this noise allows, which say nothing of it. */
  readonly leftOut: readonly string[];
}
