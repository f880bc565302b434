import type { Fix } from '../../../records/points/fix.js';
import type { RecordList } from '../../../records/record-list.js';

/**
 * So many epochs in a row never have one position to the last digit that is written, plan and height: noise of millimetres goes through each.
 * Common practice, no published source.
 */
export const LEAST_FROZEN = 30;

/** Whether all epochs of an occupation, each with a time and a measurement of its own, have one position: a receiver that stands still inside, or a mean written again and again. */
export function isFrozen(fixes: RecordList<Fix>): boolean {
  const first = fixes.at(0);
  if (first === undefined || fixes.length < LEAST_FROZEN) return false;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = first.geodetic;
  for (let index = 0; index < fixes.length; index += 1) {
    const fix = fixes.at(index);
    // Means may be written alike.
    if (fix === undefined || fix.epochMs === null || fix.epochCount > 1) return false;
    const { geodetic: own } = fix;
    if (own.latitudeDeg !== latitudeDeg || own.longitudeDeg !== longitudeDeg) return false;
    if (own.ellipsoidalHeightM !== ellipsoidalHeightM) return false;
  }
  return true;
}
