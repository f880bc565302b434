import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { CarriedReport } from '../../records/reports/parts/carried-report.js';

/** An operation this good adds less than what is set out or compared with GNSS; above it a check on known points comes first. */
const FINE_ACCURACY_M = 0.05;

/** What to do next with carried points, the most urgent first. */
export function nextOfCarried({
  counts,
  refused,
  doubts,
  steps,
  isOfSite,
  farthestOutside,
}: Pick<CarriedReport, 'counts' | 'refused' | 'doubts' | 'steps' | 'isOfSite' | 'farthestOutside'>): readonly string[] {
  const next: string[] = [];
  const [most] = refused;
  if (most !== undefined)
    next.push(
      `Mend the ${counts.refused === 1 ? 'row that was' : `${String(counts.refused)} rows that were`} refused, most of them for ${most.code} (${PROBLEM_CODES[most.code].fix}), and run again.`,
    );
  if (doubts.some(({ code }) => code === 'network-unchecked'))
    next.push('Observe the points that nothing checks once more before they are used.');
  if (doubts.some(({ code }) => code === 'coordinate-outside-area'))
    next.push('Check the zone of the points outside the area of use.');
  if (isOfSite && farthestOutside !== null)
    next.push(
      `Measure a known point of the site near ${farthestOutside.pointId}, outside the control, where nothing checks the fit.`,
    );
  // What states none is not judged.
  const worst = steps.reduce((most, { accuracyM }) => Math.max(most, accuracyM ?? 0), 0);
  if (worst > FINE_ACCURACY_M)
    next.push(
      `Compare a point that is known in both systems: the operation is stated to ${formatFixed(worst, 2)} m, and what is needed better comes from local control.`,
    );
  else if (steps.length > 0 && !isOfSite)
    next.push('Compare one point that is known in both systems before the list is used.');
  return next;
}
