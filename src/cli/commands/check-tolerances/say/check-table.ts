import { largestOf } from '../../../../core/numeric/extremes.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { SampleStatistics } from '../../../../core/quality/standards/sample-statistics.js';
import type { Regression } from '../../../../core/quality/least-squares-line.js';
import type { LimitTerm } from '../../../../core/quality/standards/limit-rule.js';
import type { RecordList } from '../../../../records/record-list.js';
import { TERM_WORDS, tightest } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { CheckAxes, CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { ControlSummary } from '../../../../tasks/check/check-tolerances-summary.js';
import { recordAt } from '../../../../tasks/reduce/packing/packed-records.js';
import { anyOf } from '../../../../tasks/reduce/record-search.js';
import { entryAt } from '../../../../records/present.js';

const SHOWN = 20;
/** With fewer degrees of freedom a slope is not worth printing. */
const LEAST_FREEDOM = 3;
const VERDICT_WORDS = { within: 'within', review: 'review', exceeds: 'no', 'not-stated': 'no, not stated' } as const;

/** Worst first: what exceeds, then what cannot be stated, then what is for review, then the rest, each by its share of its limit. No more than `most`. */
function worstFirst(rows: RecordList<CheckRow>, most: number): readonly CheckRow[] {
  const worst: RankedRow[] = [];
  let index = 0;
  for (const row of rows) {
    const ranked = { index, rank: RANKS[row.verdict], share: shareOf(row) };
    const last = worst.at(-1);
    if (worst.length < most || (last !== undefined && isWorse(ranked, last))) {
      const at = worst.findIndex((other) => isWorse(ranked, other));
      worst.splice(at < 0 ? worst.length : at, 0, ranked);
      if (worst.length > most) worst.pop();
    }
    index += 1;
  }
  return worst.map((ranked) => recordAt(rows, ranked.index));
}

const RANKS = { exceeds: 0, 'not-stated': 1, review: 2, within: 3 } as const;

/** How bad a comparison is, and which of the list. */
interface RankedRow {
  readonly index: number;
  readonly rank: number;
  readonly share: number;
}

/** Rows that are as bad stay in their order: those that come later are no worse. */
function isWorse(row: RankedRow, than: RankedRow): boolean {
  return row.rank < than.rank || (row.rank === than.rank && row.share > than.share);
}

/** Largest value over limit; without limits, largest statistic over its usual 95 % value. */
function shareOf(row: CheckRow): number {
  const shares = row.limits.map((limit) =>
    limit.limitM === null
      ? Infinity
      : limit.limitM === 0
        ? limit.valueM > 0
          ? Infinity
          : 0
        : limit.valueM / limit.limitM,
  );
  if (shares.length > 0) return largestOf(shares);
  // What was not tested is no part of the size.
  return Math.max(Math.sqrt((row.horizontalStatistic ?? 0) / 5.991), (row.verticalStatistic ?? 0) / 1.96);
}

/** The table for people: one line a comparison, the worst twenty. */
export function checkTable(rows: RecordList<CheckRow>, axes: CheckAxes): readonly string[] {
  const head = ['verdict', 'check', 'point', axes.first, axes.second, 'height', 'plan', 'limit', 'governed by'];
  const body = worstFirst(rows, SHOWN).map((row) => {
    const plan = tightest(row, 'horizontal');
    const up = tightest(row, 'up');
    const worst =
      plan !== null && up !== null && (plan.marginM ?? Infinity) <= (up.marginM ?? Infinity) ? plan : (up ?? plan);
    return [
      `${wordOf(row)}${isNoisy(row) ? ' *' : ''}`,
      row.check,
      nameOf(row),
      mm(row.firstM),
      mm(row.secondM),
      mm(row.upM),
      row.firstM === null || row.secondM === null ? '-' : mm(Math.hypot(row.firstM, row.secondM)),
      `${mm(plan?.limitM ?? null)}/${mm(up?.limitM ?? null)}`,
      termOf(worst?.governedBy ?? null),
    ];
  });
  const widths = head.map((title, column) =>
    largestOf(
      body.map((cells) => entryAt(cells, column).length),
      title.length,
    ),
  );
  const line = (cells: readonly string[]): string =>
    `  ${cells
      .map((cell, column) =>
        column >= 3 && column <= 7 ? cell.padStart(entryAt(widths, column)) : cell.padEnd(entryAt(widths, column)),
      )
      .join('  ')
      .trimEnd()}`;
  const more = rows.length - body.length;
  const note = anyOf(rows, isNoisy) ? ['  * larger than the stated uncertainty of both sides explains'] : [];
  return [
    'differences in millimetres, worst first (limit: plan/height)',
    line(head),
    ...body.map(line),
    ...(more > 0 ? [`  and ${String(more)} more, in the output`] : []),
    ...note,
  ];
}

/** `agrees` where no limit was set for any axis: a difference within its uncertainty may be any size. */
function wordOf(row: CheckRow): string {
  return row.verdict === 'within' && row.limits.length === 0 ? 'agrees' : VERDICT_WORDS[row.verdict];
}

function isNoisy({ reasons }: CheckRow): boolean {
  return reasons.some(
    (code) => code === 'check-horizontal-noise' || code === 'check-vertical-noise' || code === 'check-repeat-noise',
  );
}

function termOf(term: LimitTerm | null): string {
  return term === null ? '' : TERM_WORDS[term];
}

function nameOf(row: CheckRow): string {
  const name = row.occupation === '' ? row.pointId : `${row.pointId}@${row.occupation}`;
  return row.check === 'repeat' || row.check === 'base-pair' ? `${name} against ${row.against}` : name;
}

function mm(metres: number | null): string {
  if (metres === null) return '-';
  return Math.abs(metres) >= 100 ? `${formatFixed(metres, 0)} m` : formatFixed(metres * 1000, 1);
}

/** Bias, deviation, RMSE and what their number allows to say, axis by axis; then regressions that are significant. */
export function summaryLines(summary: ControlSummary, axes: CheckAxes): readonly string[] {
  const lines: string[] = [];
  const add = (name: string, statistics: SampleStatistics | null): void => {
    if (statistics === null) return;
    const { count, mean, standardDeviation, rmse, rmseLow95, rmseHigh95, t, tLimit95, isBiased } = statistics;
    const bias =
      t === null || tLimit95 === null
        ? ''
        : `, t ${formatFixed(t, 2)} of ${formatFixed(tLimit95, 2)}${isBiased ? ': a bias' : ''}`;
    lines.push(
      `  ${name.padEnd(9)} n ${String(count)}  mean ${mm(mean)}  s ${mm(standardDeviation)}  RMSE ${mm(rmse)} (95 %: ${mm(rmseLow95)} to ${mm(rmseHigh95)})${bias}`,
    );
  };
  add(axes.first, summary.first);
  add(axes.second, summary.second);
  add('height', summary.up);
  add('along', summary.along);
  add('across', summary.across);
  if (lines.length === 0) return [];
  const slopes = [
    ...slopeText('east with the vector from the base', summary.eastOnVector, ['mm/km eastwards', 'mm/km northwards']),
    ...slopeText('north with the vector from the base', summary.northOnVector, ['mm/km eastwards', 'mm/km northwards']),
    ...slopeText('height with the height difference from the base', summary.upOnHeight, ['mm/100 m']),
    ...slopeText('height with the distance from the base', summary.upOnDistance, ['mm/km']),
  ];
  const isTried = [summary.eastOnVector, summary.northOnVector, summary.upOnHeight, summary.upOnDistance].some(
    (regression) => regression !== null && regression.degreesOfFreedom >= LEAST_FREEDOM,
  );
  const place =
    slopes.length > 0
      ? ['residuals that change with place (95 %)', ...slopes]
      : isTried
        ? ['no residual changes with the vector, height difference or distance from the base (regressions, 95 %)']
        : [];
  return ['control residuals, millimetres', ...lines, ...place];
}

function slopeText(name: string, regression: Regression | null, units: readonly string[]): readonly string[] {
  if (regression === null || regression.degreesOfFreedom < LEAST_FREEDOM) return [];
  return units.flatMap((unit, index) => {
    const term = regression.terms[index + 1];
    if (!term?.isSignificant) return [];
    return [`  ${name}: ${formatFixed(term.estimate * 1000, 2)} ± ${formatFixed(term.halfWidth95 * 1000, 2)} ${unit}`];
  });
}
