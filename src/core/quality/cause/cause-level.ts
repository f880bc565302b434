import { fUpperTail } from '../../numeric/distributions/f-distribution.js';
import { CAUSE_COUNT } from './cause-ids.js';

/**
 * How well the stated noise is known, as degrees of freedom: about a ninth of a standard deviation. An assumption; it
 * makes the tail as long as that of errors which are not quite normal.
 */
export const NOISE_DEGREES = 40;

/** What a form gained, and what it had to gain it with. */
export interface FormTest {
  /** χ² before minus after. */
  readonly drop: number;
  readonly chiSquareAfter: number;
  readonly values: number;
  readonly unknowns: number;
  /** A pattern of stated size is part of the form. */
  readonly hasFixed: boolean;
  /** Like forms it was chosen from. */
  readonly choices: number;
  /** The noise was itself estimated from these values. */
  readonly isNoiseEstimated: boolean;
}

/**
 * Chance that noise alone gives any form of any cause a drop in χ² as rare as this one.
 *
 * Given: the form's drop. Returned: 0 to 1: the tail of F with one degree of freedom for each unknown and `NOISE_DEGREES`
 * for the noise, times the like forms it was chosen from, times the number of causes. A pattern of stated size counts as
 * one more unknown, or as one side of one where it is all there is: its drop is never more than with its size free.
 * Reference: Bonferroni's inequality; docs/methods/likely-cause.md, "The choice".
 */
export function chanceOfDrop(test: FormTest): number {
  const { drop, chiSquareAfter, values, unknowns, hasFixed, choices, isNoiseEstimated } = test;
  if (!(drop > 0)) return 1;
  const degrees = unknowns + (hasFixed ? 1 : 0);
  const left = values - degrees;
  if (degrees < 1 || left < 1) return 1;
  const variance = isNoiseEstimated ? chiSquareAfter / left : 1;
  const tail = fUpperTail(
    drop / degrees / variance,
    degrees,
    isNoiseEstimated ? Math.min(left, NOISE_DEGREES) : NOISE_DEGREES,
  );
  return Math.min(1, (unknowns === 0 ? tail / 2 : tail) * choices * CAUSE_COUNT);
}
