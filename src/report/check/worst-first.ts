import { byNeed } from '../page/words/by-need.js';
import type { ReportCheck } from '../../records/reports/check-report.js';

const NEED: Readonly<Record<ReportCheck['verdict'], number>> = { exceeds: 0, 'not-stated': 1, review: 2, within: 3 };

/** What was not compared is not large. */
const LEAST = -1;

/** Comparisons as they are to be looked at: what fails, what cannot be stated, what is for review, the rest; of each the largest first. */
export function worstFirst(checks: readonly ReportCheck[]): readonly ReportCheck[] {
  return byNeed(checks, ({ verdict }) => NEED[verdict], sizeOf);
}

/** The larger difference of plan and height over its limit; without limits over its uncertainty, and without that in metres. */
function sizeOf(check: ReportCheck): number {
  const { firstM, secondM, upM, horizontalLimitM, verticalLimitM, horizontalStatistic, verticalStatistic } = check;
  const plan = firstM === null || secondM === null ? LEAST : Math.hypot(firstM, secondM);
  const height = upM === null ? LEAST : Math.abs(upM);
  if (horizontalLimitM !== null || verticalLimitM !== null)
    return Math.max(plan / (horizontalLimitM ?? Infinity), height / (verticalLimitM ?? Infinity));
  if (horizontalStatistic !== null || verticalStatistic !== null)
    return Math.max(
      horizontalStatistic === null ? LEAST : Math.abs(horizontalStatistic),
      verticalStatistic === null ? LEAST : Math.abs(verticalStatistic),
    );
  return Math.max(plan, height);
}
