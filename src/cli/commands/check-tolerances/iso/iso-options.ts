import type { IsoNominal } from '../../../../core/quality/standards/iso-17123-8.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { numberOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';

/** The nominal vector and the predetermined sigmas of the field procedure. Problems: config-missing, usage-invalid. */
export function isoNominal(invocation: Invocation): Outcome<IsoNominal> {
  const distanceM = numberOption(invocation, 'nominalDistance');
  const heightDifferenceM = numberOption(invocation, 'nominalHeightDifference');
  const sigmaXyM = numberOption(invocation, 'sigmaHorizontal');
  const sigmaHeightM = numberOption(invocation, 'sigmaVertical');
  if (distanceM === null || heightDifferenceM === null || sigmaXyM === null || sigmaHeightM === null)
    return failure(
      errorProblem('config-missing', {
        message: 'the procedure needs the nominal vector and the predetermined sigmas',
        hint: 'give --nominal-distance, --nominal-height-difference, --sigma-horizontal and --sigma-vertical, in metres',
      }),
    );
  if (!(distanceM > 0 && sigmaXyM > 0 && sigmaHeightM > 0))
    return failure(
      errorProblem('usage-invalid', { message: 'the nominal distance and the sigmas must be more than 0 metres' }),
    );
  return success({ distanceM, heightDifferenceM, sigmaXyM, sigmaHeightM });
}
