import type { Standard } from '../../core/quality/standards/standards.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { Problem } from '../../records/problem.js';
import type { RecordList } from '../../records/record-list.js';
import { joinedList } from '../reduce/packing/packed-records.js';
import { anyOf, listWhere } from '../reduce/record-search.js';
import type { CheckResults } from './check-report.js';
import { controlSummary } from './check-tolerances-summary.js';
import type { ControlSummary } from './check-tolerances-summary.js';
import { checkControl } from './compare/check-tolerances-control.js';
import type { ControlCheck } from './compare/check-tolerances-control.js';
import { otherNameStatements } from './compare/other-names.js';
import { checkCoverage } from './compare/check-tolerances-coverage.js';
import type { CheckCoverage } from './compare/check-tolerances-coverage.js';
import { checkDesign, checkLine } from './compare/check-tolerances-design.js';
import type { DesignCheck } from './compare/check-tolerances-design.js';
import { checkRepeats } from './compare/check-tolerances-repeats.js';
import type { RepeatCheck } from './compare/check-tolerances-repeats.js';
import { dayOfCheck, dayToApply } from './day-of-check.js';
import type { DayOfCheck } from './day-of-check.js';
import type { CauseSearch } from './judge/check-tolerances-cause.js';
import { inputDoubts, withInputVerdict } from './judge/check-tolerances-input-verdict.js';
import type { CheckRow, CheckSetup } from './judge/check-tolerances-setup.js';
import type { StandardStatement } from './judge/check-tolerances-standard-statement.js';
import { standardStatements } from './judge/check-tolerances-standard.js';

/** Points that were read, and what messages call their file. */
export interface NamedPoints {
  readonly points: RecordList<PointRow>;
  readonly name: string;
}

/** What points are checked against; null where that is not asked for. */
export interface ChecksAsked {
  readonly control: NamedPoints | null;
  /** Occupations of one point, by its name or, with `samePlaceM`, by where they lie, metres. */
  readonly repeats: { readonly samePlaceM: number | null } | null;
  /** `isLine`: the design is a line through its points in order. */
  readonly design: (NamedPoints & { readonly isLine: boolean }) | null;
  /** The published standard whose statements are made. */
  readonly standard: Standard | null;
  /** The noise of the day counts in every covariance, where it is more than was stated. */
  readonly isDayCounted: boolean;
  /** Raw fixes were counted by the limits of the standard. */
  readonly hasFixes: boolean;
}

/** What came of each check that was asked for, and of all of them together. */
export interface Checks {
  /** Every comparison: control, repeats, design. */
  readonly rows: RecordList<CheckRow>;
  readonly control: ControlFound | null;
  readonly repeats: RepeatCheck | null;
  readonly design: DesignFound | null;
  /** Residuals of the control, axis by axis. */
  readonly summary: ControlSummary | null;
  /** What judges the whole: limits that nothing could be held against, and the standard. */
  readonly statements: readonly StandardStatement[];
  /** How noisy the day was; where it was to be counted, as it was counted. */
  readonly day: DayOfCheck;
  /** The cause of what control leaves; null where there is no control. */
  readonly search: CauseSearch | null;
  /** The points that a standard of classes is applied to: those that the reduction did not reject. */
  readonly classed: RecordList<PointRow>;
  /** What the reduction rejected or left for review. */
  readonly doubts: CheckResults['inputDoubts'];
}

/** Checks of control; `hasShared`: some of it counts here and in a fit. */
export interface ControlFound extends ControlCheck {
  readonly coverage: CheckCoverage;
  readonly hasShared: boolean;
}

/** Checks of a design. */
export interface DesignFound extends DesignCheck {
  readonly coverage: CheckCoverage;
}

const NOTHING_ASKED: ChecksAsked = {
  control: null,
  repeats: null,
  design: null,
  standard: null,
  isDayCounted: false,
  hasFixes: false,
};

/** Makes of a comparison what is kept. */
type Settle = (row: CheckRow) => CheckRow;

/** Where no points are checked. */
export const NO_CHECKS: Checks = {
  rows: [],
  control: null,
  repeats: null,
  design: null,
  summary: null,
  statements: [],
  day: { day: null, search: null, usesControl: false },
  search: null,
  classed: [],
  doubts: { rejected: 0, review: 0, unchecked: 0, rejectedIds: [], reviewIds: [] },
};

/**
 * Checks points, step by step: the noise of the day, control, repeats, design, what they say together, the likely cause.
 *
 * Given: the points; what they are checked against, nothing that is not named; the setup with its limits, its `day` null; what is called
 * with each comparison, such as a look at the memory. Returned: what each step found. Problems: those of `checkControl`, `checkRepeats`,
 * `checkDesign` and `checkLine`.
 *
 * @example
 * const read = await readPointsFile('points.csv', { grid });
 * const measured = { points: read.ok ? read.value : [], name: 'points.csv' };
 * const checks = checkPoints(measured, { repeats: { samePlaceM: null } }, setup);
 */
export function checkPoints(
  measured: NamedPoints,
  named: Partial<ChecksAsked>,
  stated: CheckSetup,
  onRow: () => void = () => undefined,
): Outcome<Checks> {
  const asked = { ...NOTHING_ASKED, ...named };
  const { points } = measured;
  const counted = asked.isDayCounted
    ? dayToApply(points, asked.control === null ? null : asked.control.points, asked.repeats, stated)
    : null;
  const setup: CheckSetup = { ...stated, day: counted?.day?.isApplied === true ? counted.day : null };
  const settle: Settle = (row) => {
    onRow();
    return withInputVerdict(row);
  };
  const control = controlFound(points, asked.control, setup, settle);
  if (!control.ok) return control;
  const repeats =
    asked.repeats === null
      ? success(null)
      : checkRepeats(points, asked.repeats.samePlaceM, measured.name, setup, settle);
  if (!repeats.ok) return repeats;
  const design = designFound(points, asked.design, setup, settle);
  if (!design.ok) return design;
  const warnings: readonly Problem[] = [...control.problems, ...repeats.problems, ...design.problems];
  const parts = { control: control.value, repeats: repeats.value, design: design.value };
  return success({ ...parts, ...together(points, parts, asked, setup, counted) }, warnings);
}

function controlFound(
  points: RecordList<PointRow>,
  control: NamedPoints | null,
  setup: CheckSetup,
  settle: Settle,
): Outcome<ControlFound | null> {
  if (control === null) return success(null);
  const found = checkControl(points, control.points, control.name, setup, settle);
  if (!found.ok) return found;
  return success(
    {
      ...found.value,
      coverage: checkCoverage(found.value.rows, 'control', setup.controlRules),
      hasShared: anyOf(control.points, ({ role }) => role === 'both'),
    },
    found.problems,
  );
}

function designFound(
  points: RecordList<PointRow>,
  design: ChecksAsked['design'],
  setup: CheckSetup,
  settle: Settle,
): Outcome<DesignFound | null> {
  if (design === null) return success(null);
  const check = design.isLine ? checkLine : checkDesign;
  const found = check(points, design.points, design.name, setup, settle);
  if (!found.ok) return found;
  const coverage = checkCoverage(found.value.rows, design.isLine ? 'line' : 'design', setup.designRules);
  return success({ ...found.value, coverage }, found.problems);
}

/** What the comparisons say together. */
function together(
  points: RecordList<PointRow>,
  { control, repeats, design }: Pick<Checks, 'control' | 'repeats' | 'design'>,
  { standard, hasFixes }: ChecksAsked,
  setup: CheckSetup,
  counted: DayOfCheck | null,
): Omit<Checks, 'control' | 'repeats' | 'design'> {
  const rows = joinedList([control, repeats, design].flatMap((part) => (part === null ? [] : [part.rows])));
  const summary = control === null ? null : controlSummary(control.rows, setup);
  const classed = listWhere(points, ({ verdict }) => verdict !== 'rejected');
  const day = dayOfCheck(control === null ? [] : control.rows, repeats === null ? [] : repeats.groups, setup);
  const checkPointCount = control === null ? 0 : control.checkPoints;
  return {
    rows,
    summary,
    classed,
    statements: [
      ...[control, design].flatMap((part) => (part === null ? [] : part.coverage.statements)),
      ...(control === null ? [] : otherNameStatements(control.otherNames, 'control')),
      ...(repeats === null ? [] : otherNameStatements(repeats.otherNames, 'repeat')),
      ...(design === null ? [] : otherNameStatements(design.otherNames, 'design')),
      ...(standard === null ? [] : standardStatements(standard, classed, summary, checkPointCount, hasFixes)),
    ],
    day: counted ?? day,
    search: day.search,
    doubts: inputDoubts(points),
  };
}
