import { CAUSE_TEXTS } from '../../core/quality/cause/cause-ids.js';
import type { CauseEstimate } from '../../core/quality/cause/cause-model.js';
import type { CauseFinding } from '../../core/quality/cause/likely-cause.js';
import type { CheckReport, ReportCause, ReportCauses } from '../../records/reports/check-report.js';
import type { RepeatGroup } from './compare/check-tolerances-repeats.js';
import type { CauseSearch } from './judge/check-tolerances-cause.js';

/** Causes shown, and all that are tied. */
const MOST_CAUSES = 3;

const DECIMALS: Readonly<Record<CauseEstimate['unit'], number>> = {
  m: 3,
  ppm: 1,
  years: 1,
  deg: 1,
  turn: 5,
  times: 2,
  '': 6,
};

/** Points whose occupations disagree, with the likeliest cause of each. */
export function repeatCausesOf(groups: readonly RepeatGroup[]): CheckReport['repeatCauses'] {
  return groups.flatMap(({ pointId, cause, odd }) => {
    if (cause === null) return [];
    const { title, confirm } = CAUSE_TEXTS[cause.cause];
    const { eastM, northM, upM } = cause.difference;
    return [{ pointId, title, confirm, planM: Math.hypot(eastM, northM), upM, odd }];
  });
}

/** What the search of the residuals says, as a page shows it. */
export function causesOf({ report }: CauseSearch): ReportCauses {
  const [first] = report.findings;
  const isTied = (finding: CauseFinding): boolean =>
    report.alike.length > 0 && (finding === first || report.alike.includes(finding.cause));
  const causeOf = (finding: CauseFinding): ReportCause => ({
    title: CAUSE_TEXTS[finding.cause].title,
    subject: finding.subject,
    estimates: finding.estimates.map(({ name, value, sigma, unit }) => ({
      name: name.replaceAll('_', ' '),
      value,
      halfWidth95: sigma === null ? null : 1.96 * sigma,
      unit: unit === 'turn' ? 'deg' : unit,
      decimals: DECIMALS[unit],
    })),
    rmsAfterM: finding.rmsAfterM,
    gain: finding.gain,
    confirm: CAUSE_TEXTS[finding.cause].confirm,
    isTied: isTied(finding),
  });
  const isNamed = report.verdict === 'named';
  return {
    verdict: report.verdict,
    rmsBeforeM: report.rmsBeforeM,
    causes: isNamed
      ? report.findings
          .filter(({ explains }) => explains)
          .slice(0, Math.max(MOST_CAUSES, report.alike.length + 1))
          .map(causeOf)
      : [],
    together: report.together.map(({ finding, alike }) => ({
      ...causeOf(finding),
      or: alike.map((cause) => CAUSE_TEXTS[cause].title),
    })),
    nearest: report.verdict !== 'no-single-cause' || first === undefined ? null : causeOf(first),
    singles: report.thenSingles.map(causeOf),
    areSinglesEnough: report.thenSingles.at(-1)?.explains === true,
  };
}
