/** What of the planning model a factor multiplies: what grows with the baseline, or all of it. */
export type DayPart = 'growing' | 'all';

/** What a day says of the planning model over baselines of one class of length: the factor of its whole variance there. */
export interface DayAtBaseline {
  readonly fromM: number;
  /** Infinity: no end. */
  readonly toM: number;
  /** Points that say it, and their contrasts. */
  readonly points: number;
  readonly contrasts: number;
  readonly factor: number;
  readonly low95: number;
  readonly high95: number;
}

/** What repeats, and control, say of the planning model on one day. */
export interface DayVariance {
  readonly part: DayPart;
  /** Points that say it, their contrasts, and how many independent ones would say as much. */
  readonly points: number;
  readonly contrasts: number;
  readonly degreesOfFreedom: number;
  /** What the variances of that part are to be multiplied by, and its 95 % interval, whose upper end may be Infinity. */
  readonly factor: number;
  readonly low95: number;
  readonly high95: number;
  /** The factor with what its own uncertainty asks for, for 95 % figures to hold 95 %: what is applied where it is. */
  readonly allowed: number;
  readonly isNoisier: boolean;
  /** The covariances written hold the factor. */
  readonly isApplied: boolean;
  /** What that makes of the whole of the model, by length of baseline; classes that hold points. */
  readonly byBaseline: readonly DayAtBaseline[];
  /** Points that differ by more than this noise allows, which say nothing of it. */
  readonly leftOut: readonly string[];
}
