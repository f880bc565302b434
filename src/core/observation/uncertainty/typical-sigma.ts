import { medianOfEach } from '../../numeric/median.js';
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
  return medianOfEach(fixes.length, (place) => sigmaOf(fixes.at(place) as Fix));
}
