import { fUpperTail } from '../../numeric/distributions/f-distribution.js';
import { LONG_TAIL_LEVEL } from '../decision-levels.js';
import type { CauseContext } from './cause-context.js';
import type { CauseFinding } from './cause-finding.js';
import { CAUSE_COUNT } from './cause-ids.js';
import type { Found } from './form-search.js';

/** Student's t with so many degrees of freedom stands for noise with long tails, scaled to the variance stated. An assumption. */
const TAIL_DEGREES = 4;

/** Chance, where it explains any of causes that cannot be told apart; nothing where it does not. */
export function chanceBeside(tied: readonly Found[], context: CauseContext): readonly CauseFinding[] {
  return tied.flatMap((found) => longTails(found, context) ?? []).slice(0, 1);
}

/**
 * Chance as an explanation of a mistake that was found in one occupation: noise whose tails are long, so that a few
 * occupations in a thousand are off by many times what is stated. The residuals of one occupation cannot tell that from an
 * offset of its own; only its size can.
 *
 * Given: what was found, by its drop in χ² with k unknowns in the noise of `context`; n values, m occupations. Returned: the finding
 * to be said beside it, with the factor √(drop/k) by which the occupation's noise would have been larger; null where more than one
 * occupation is moved, or where even with long tails the chance of any of the m being so far off, m times the tail of F with k and 4
 * degrees of freedom at drop/k · 4/(4 − 2), is below `LONG_TAIL_LEVEL`. Its gain is that of a variance found for that
 * occupation: drop − k ln(drop/k) − k, less the penalties of one unknown and m places.
 *
 * Reference: KOTZ-NADARAJAH-2004, chapter 1, for the quadratic form of a multivariate t being k times F; docs/methods/likely-cause.md,
 * "Chance in one occupation".
 */
function longTails(found: Found, context: CauseContext): CauseFinding | null {
  const { finding, penalty, unknowns } = found;
  const drop = finding.gain + penalty;
  if (finding.stand === null || unknowns === 0 || !(drop > unknowns)) return null;
  const stands = context.day.points.length;
  const perUnknown = drop / unknowns;
  const tail = fUpperTail((perUnknown * TAIL_DEGREES) / (TAIL_DEGREES - 2), unknowns, TAIL_DEGREES);
  const chance = Math.min(1, stands * tail);
  if (chance < LONG_TAIL_LEVEL) return null;
  return {
    cause: 'occupation-noise',
    subject: finding.stand.name,
    estimates: [{ name: 'factor_of_standard_deviations', value: Math.sqrt(perUnknown), sigma: null, unit: 'times' }],
    chiSquareAfter: finding.chiSquareAfter,
    rmsAfterM: finding.rmsAfterM,
    gain:
      drop -
      unknowns * (Math.log(perUnknown) + 1) -
      Math.log(context.values.length) -
      2 * Math.log(stands) -
      2 * Math.log(CAUSE_COUNT),
    chance,
    isOpen: false,
    explains: finding.explains,
    alsoFits: [],
    stand: finding.stand,
  };
}
