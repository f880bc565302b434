import { CAUSE_TEXTS } from '../../../../core/quality/cause/cause-ids.js';
import type { CauseFinding } from '../../../../core/quality/cause/likely-cause.js';
import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { dayVarianceJson } from '../../../../io/documents/day-variance-json.js';
import type { RunAnswer } from '../../../../records/runs/run-answer.js';
import { answerOfStatement } from '../../../../tasks/check/check-answer.js';
import type { CheckResults } from '../../../../tasks/check/check-report.js';

/** What a JSON file says of a whole check beside its rows; described in docs/file-formats.md. Metres 4 decimals, evidence 1. */
export function checkJson(
  results: Pick<CheckResults, 'statements' | 'search' | 'groups' | 'day'>,
  run: RunAnswer,
): Readonly<Record<string, unknown>> {
  const { statements, search, groups, day } = results;
  const report = search?.report ?? null;
  return {
    is_within: run.answer === 'within',
    verdict: run.answer,
    verdict_counts: Object.fromEntries(run.verdicts),
    reason_counts: Object.fromEntries(run.reasons),
    statements: statements.map((statement) => ({
      what: statement.what,
      text: statement.text,
      verdict: answerOfStatement(statement),
    })),
    ...(day !== null && { day_variance: dayVarianceJson(day) }),
    likely_cause:
      report === null
        ? null
        : {
            verdict: report.verdict,
            rms_before_m: rounded(report.rmsBeforeM, 4),
            causes: report.findings.map((finding, index) => ({
              ...cause(finding),
              is_tied: report.alike.length > 0 && (index === 0 || report.alike.includes(finding.cause)),
            })),
            forms_tested: report.tested,
            together: report.together.map(({ finding, alike }) => ({ ...cause(finding), or: alike })),
            single_occupations: report.thenSingles.map(cause),
          },
    repeats: groups.flatMap(({ pointId, cause: why, odd }) =>
      why === null
        ? []
        : [
            {
              point_id: pointId,
              cause: why.cause,
              plan_m: rounded(Math.hypot(why.difference.eastM, why.difference.northM), 4),
              height_m: rounded(why.difference.upM, 4),
              occupation_alone: odd,
              pole_step_m: why.poleStepM === null ? null : rounded(why.poleStepM, 4),
            },
          ],
    ),
  };
}

function cause(finding: CauseFinding): Readonly<Record<string, unknown>> {
  const { title, confirm } = CAUSE_TEXTS[finding.cause];
  return {
    cause: finding.cause,
    title,
    subject: finding.subject,
    estimates: finding.estimates.map(({ name, value, sigma, unit }) => ({
      name,
      value: rounded(value, 6),
      half_width_95: sigma === null ? null : rounded(1.96 * sigma, 6),
      unit,
    })),
    rms_after_m: rounded(finding.rmsAfterM, 4),
    evidence: rounded(finding.gain, 1),
    explains: finding.explains,
    also_fits: finding.alsoFits,
    to_confirm: confirm,
  };
}

function rounded(value: number, decimals: number): number | null {
  return parseDecimal(formatFixed(value, decimals));
}
