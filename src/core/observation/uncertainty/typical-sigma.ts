import { median } from '../../numeric/median.js';
import type { Fix } from '../../../records/points/fix.js';
import type { RecordList } from '../../../records/record-list.js';

/**
 * The sigma that epochs report, a typical one: the median, so that an epoch that calls itself poor widens nothing for
 * the others nor for itself.
 *
 * Given: epochs, at least one; how a sigma is read of one, metres, null where it is not stated.
 * Returned: metres; null where an epoch does not state it.
 */
export function typicalSigmaM(fixes: RecordList<Fix>, sigmaOf: (fix: Fix) => number | null): number | null {
  const sigmas = new Float64Array(fixes.length);
  for (let i = 0; i < fixes.length; i += 1) {
    const sigmaM = sigmaOf(fixes.at(i) as Fix);
    if (sigmaM === null) return null;
    sigmas[i] = sigmaM;
  }
  return median(sigmas);
}
