import type { Standard } from '../../../../core/quality/standards/standards.js';
import type { ChecksAsked } from '../../../../tasks/check/check-points.js';
import { isEstimated } from '../../reduce-points/options/held-options.js';
import { flagOption, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { CheckInputs } from '../read-check-inputs.js';

/** What the options ask to be checked, with the files they name; without points nothing is. */
export function askedChecks(
  invocation: Invocation,
  inputs: CheckInputs | null,
  standard: Standard | null,
): ChecksAsked {
  const { control, design } = inputs ?? { control: null, design: null };
  return {
    control,
    repeats: flagOption(invocation, 'repeats') ? { samePlaceM: numberOption(invocation, 'samePlace') } : null,
    design: design === null ? null : { ...design, isLine: flagOption(invocation, 'line') },
    standard,
    isDayCounted: isEstimated(invocation),
    hasFixes: textOption(invocation, 'fixes') !== null,
  };
}
