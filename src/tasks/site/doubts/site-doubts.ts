import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { FittedSite } from '../fit-site.js';
import type { JudgedSite } from '../judge-site.js';
import type { SiteStatements } from '../site-statements.js';

/** What is doubtful about the points of a fit, and whether its residuals are larger than stated sigmas allow. */
export interface SiteDoubts {
  readonly warnings: readonly Problem[];
  readonly isStrained: boolean;
}

/**
 * The doubts about a judged fit. Given: the fit, its judgement and statements; the name of the control file.
 * Warnings: those of suspect points (site-outlier and the like), site-unchecked, site-suspect.
 */
export function siteDoubts(
  fitted: FittedSite,
  judged: JudgedSite,
  { isUnusable }: Pick<SiteStatements, 'isUnusable'>,
  source: string,
): SiteDoubts {
  const suspects = judged.rows.filter((row) => row.verdict === 'no');
  const unchecked =
    isUnusable || fitted.horizontal.adjustment.redundancy === 0
      ? []
      : judged.rows.filter((row) => row.reasons.includes('site-unchecked'));
  const strained = [['plan', fitted.horizontalFactor] as const, ['height', fitted.verticalFactor] as const].filter(
    ([, factor]) => factor?.isExceeded === true,
  );
  return {
    isStrained: strained.length > 0,
    warnings: [
      ...suspects.map((row) =>
        warningProblem(row.reasons[0] ?? 'site-outlier', {
          message: `${row.pointId} ${row.role === 'check' ? 'is off by more than its uncertainty or limit allows' : 'does not fit with the others'}`,
          where: { source, line: row.control.place.line },
        }),
      ),
      ...unchecked.map((row) =>
        warningProblem('site-unchecked', {
          message:
            row.role === 'check'
              ? `nothing judges the check point ${row.pointId}: neither its sigmas nor a limit are given`
              : `hardly anything checks ${row.pointId}: a redundancy is below 0.1`,
          where: { source, line: row.control.place.line },
          ...(row.role === 'check' && {
            hint: 'give --limit-horizontal and --limit-vertical, or sigmas in the control file',
          }),
        }),
      ),
      ...strained.map(([what]) =>
        warningProblem('site-suspect', {
          message: `the residuals in ${what} are larger than the stated sigmas allow`,
          hint: 'a blunder, sigmas stated too small, or something other than a site of its own',
        }),
      ),
    ],
  };
}
