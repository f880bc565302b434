import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { BEND_FARTHEST_M } from '../../../../core/observation/uncertainty/vector-bend.js';
import { baseBend } from '../../../../tasks/bases/base-bend.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';

/** A twentieth of a millimetre: less would print as nothing. */
const SHOWN_FROM_M = 5e-5;

const mm = (metres: number): string => `${formatFixed(metres * 1000, 1)} mm`;
const km = (metres: number, decimals = 1): string => `${formatFixed(metres / 1000, decimals)} km`;

/** What a summary says, once a base, of the bend that a wrong base coordinate left in its vectors. */
export function baseNotes(setup: ReductionSetup, totals: ReductionTotals): readonly string[] {
  return setup.bases.flatMap((base) => {
    const farthestM = totals.bases.get(base.identity.setupKey)?.farthestM ?? null;
    const bend = baseBend(base, farthestM, setup);
    if (bend === null || farthestM === null || Math.max(bend.greatest.alongM, bend.greatest.upM) < SHOWN_FROM_M)
      return [];
    const matters =
      bend.mattersFromM === null
        ? `matters at no distance up to ${km(BEND_FARTHEST_M, 0)}`
        : `may matter from ${km(bend.mattersFromM)} on`;
    return [
      `base ${base.identity.setupName}: while it was wrong it also bent its vectors, one sigma up to ${mm(bend.greatest.alongM)} in plan and ${mm(bend.greatest.upM)} in height at ${km(farthestM)}; no correction removes that, the covariances hold it, and it ${matters}`,
    ];
  });
}
