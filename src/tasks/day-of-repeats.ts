import { noisyDay } from '../core/quality/noisy-day.js';
import type { ContrastedPoint } from '../core/quality/noisy-day.js';
import { formatFixed } from '../core/numeric/format-fixed.js';
import type { DayVariance } from '../records/day-variance.js';
import type { ModelSettings } from '../records/session.js';

/** Points named one by one; the rest are counted. */
const MOST_NAMED = 5;

/** What the repeats of a run say of the day; nothing of it is applied yet. */
export function dayOfRepeats(repeats: readonly ContrastedPoint[]): readonly DayVariance[] {
  return noisyDay(repeats).map((own): DayVariance => ({ ...own, isApplied: false }));
}

/**
 * What is said of a day that was noisier than its model.
 *
 * Given: what the repeats say; the settings of the model; how to count it, in words. Returned: one line a class, none where none was noisier.
 */
export function dayLines(day: readonly DayVariance[], precision: ModelSettings, toCountIt: string): readonly string[] {
  return day.flatMap((own) => {
    const { factor, low95, high95, points, degreesOfFreedom, isNoisier, isApplied, leftOut } = own;
    if (!isNoisier) return [];
    const size = Number.isFinite(high95) ? `${figure(low95)} to ${figure(high95)}` : `at least ${figure(low95)}`;
    const sigma = figure(Math.sqrt(factor));
    const consequence = isApplied ? `applied: the model's sigmas there are ${sigma} times as large` : `the model's sigmas there are too small by ${sigma} (${toCountIt})`;
    const blunders = leftOut.length === 0 ? '' : `; left out, as differing by more than noise: ${leftOut.slice(0, MOST_NAMED).join(', ')}${leftOut.length > MOST_NAMED ? ` and ${String(leftOut.length - MOST_NAMED)} more` : ''}`;
    return [`the day was noisier than ${modelName(precision)}: variance factor ${figure(factor)} (${size}) ${rangeWords(own)}, by ${String(degreesOfFreedom)} differences of ${String(points)} repeated points; ${consequence}${blunders}`];
  });
}

/** Why an estimate that was asked for changed nothing; null where it did. */
export function dayUnchanged(day: readonly DayVariance[], precision: ModelSettings): string | null {
  if (day.some(({ isApplied }) => isApplied)) return null;
  if (day.length === 0) return 'no variance factor of the day: no point was occupied again from one base mark';
  return `no variance factor applied: the repeats do not show the day noisier than ${modelName(precision)} (${day.map((own) => `${figure(own.factor)} ${rangeWords(own)}`).join(', ')})`;
}

function modelName({ conditions, horizontal, vertical }: ModelSettings): string {
  return horizontal !== null && vertical !== null ? 'the stated precision' : `\`${conditions}\``;
}

function rangeWords({ fromM, toM }: DayVariance): string {
  if (fromM === 0) return `up to ${String(toM / 1000)} km`;
  return toM === Infinity ? `beyond ${String(fromM / 1000)} km` : `from ${String(fromM / 1000)} to ${String(toM / 1000)} km`;
}

function figure(value: number): string {
  return formatFixed(value, 1);
}
