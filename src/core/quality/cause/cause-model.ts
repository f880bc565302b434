import type { CauseId } from './cause-ids.js';

/** A number that a hypothesis finds or states. Sigma null: stated by the hypothesis, not estimated. */
export interface CauseEstimate {
  readonly name: string;
  readonly value: number;
  readonly sigma: number | null;
  /** A turn is in degrees too, and as fine as a convergence. */
  readonly unit: 'm' | 'ppm' | 'years' | 'deg' | 'turn' | 'times' | '';
}

/** An occupation, as it is named. */
export interface CauseStand {
  readonly name: string;
  /** Its point has no other. */
  readonly isOnlyOfPoint: boolean;
}

/** One form of a hypothesis: a known pattern, patterns of unknown size, and what they mean. */
export interface CauseModel {
  readonly cause: CauseId;
  /** Which occupation, time, base or form, in words; empty when there is only one. */
  readonly subject: string;
  /** Known whole; null: none. */
  readonly fixed: Float64Array | null;
  /** Patterns whose sizes are estimated. */
  readonly columns: readonly Float64Array[];
  /** The vectors above are whitened already. */
  readonly isWhitened: boolean;
  /** Number of like forms this one was chosen from: 2 ln of it is added to the criterion. */
  readonly choices: number;
  /** Names the estimates; null: they are beyond what the cause can do and the form is dropped. */
  readonly read: (estimates: readonly number[], sigmas: readonly number[]) => readonly CauseEstimate[] | null;
  /** The one occupation that it moves; null or left out: more than one. */
  readonly stand?: CauseStand | null;
  /** One sigma of each size on a day without a mistake, beside the noise; left out: none. */
  readonly ordinary?: readonly number[];
  /** How implausible sizes found are before looking, in units of χ²; left out: none is. */
  readonly implausibility?: (estimates: readonly number[]) => number;
}
