import type { CauseId } from './cause-ids.js';
import type { CauseEstimate, CauseStand } from './cause-model.js';

/** One cause, in its best form, with what it explains. */
export interface CauseFinding {
  readonly cause: CauseId;
  readonly subject: string;
  readonly estimates: readonly CauseEstimate[];
  /** χ² of the residuals once the cause is taken off. */
  readonly chiSquareAfter: number;
  /** RMS of all residuals together once it is taken off, metres. */
  readonly rmsAfterM: number;
  /** How much better than no cause, after penalties for freedom and choice: above 10 is very strong. */
  readonly gain: number;
  /** Chance that noise alone gives any form of any cause this much. */
  readonly chance: number;
  /** That chance is below the level: the cause may be named. Causes that are not are given only as alike. */
  readonly isOpen: boolean;
  /** What is left agrees with the noise (χ² below its 99.9 % limit). */
  readonly explains: boolean;
  /** Other forms of this cause that explain about as much: their gain is within 2 of it; at most three. */
  readonly alsoFits: readonly string[];
  /** The one occupation that it moves; null: more than one. */
  readonly stand: CauseStand | null;
}

/** A cause beside another, with those that cannot be told from it there. */
export interface JointFinding {
  readonly finding: CauseFinding;
  readonly alike: readonly CauseId[];
}

/** What the search says. */
export interface CauseReport {
  readonly observations: number;
  readonly chiSquareBefore: number;
  readonly rmsBeforeM: number;
  /** The residuals together do not agree with their noise (99 %), or some cause gains more than chance gives. */
  readonly isDisturbed: boolean;
  readonly verdict: 'nothing-to-explain' | 'named' | 'two-causes' | 'no-single-cause' | 'too-few-values';
  /** How many forms of causes were looked at. */
  readonly tested: number;
  /** Causes that gain, the best and those alike first; at most five, and all that are alike. */
  readonly findings: readonly CauseFinding[];
  /** Findings that these residuals cannot tell from the first: near in gain, or the same pattern of the same size. */
  readonly alike: readonly CauseId[];
  /** Two causes that explain the residuals together where none does alone; else none. */
  readonly together: readonly JointFinding[];
  /** Where neither one cause nor two explain the residuals: what single occupations add once the first is taken off, in turn. */
  readonly thenSingles: readonly CauseFinding[];
}
