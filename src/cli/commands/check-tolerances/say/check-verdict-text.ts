import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { leastSquaresLine } from '../../../../core/quality/least-squares-line.js';
import { sampleStatistics } from '../../../../core/quality/standards/sample-statistics.js';
import type { BaseMisclosure } from '../../../../tasks/check/compare/check-tolerances-repeats.js';
import type { Answer, RunAnswer } from '../../../../records/runs/run-answer.js';
import type { RecordList } from '../../../../records/record-list.js';
import { judgedWords } from '../../../../tasks/check/check-judged-words.js';
import { anyLimit } from '../../../../tasks/check/judge/check-tolerances-judged-by.js';
import type { CheckRow } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { StandardStatement } from '../../../../tasks/check/judge/check-tolerances-standard-statement.js';
import { countOf } from '../../../../tasks/reduce/record-search.js';

/** 95 % limit of χ² with 3 degrees of freedom. */
const CHI_SQUARE_3_95 = 7.814727903251179;

/** The last line: the answer in one of three words, the counts, and what decided: a limit, or the stated uncertainty where none was set. */
export function verdictLine(
  { answer, verdicts }: RunAnswer,
  rows: RecordList<CheckRow>,
  statements: readonly StandardStatement[],
  areFixesRefused: boolean,
): string {
  const count = (word: Answer): string => String(verdicts.get(word) ?? 0);
  const open =
    countOf(rows, (row) => row.verdict === 'not-stated') +
    statements.filter(({ verdict }) => verdict === 'not-stated').length;
  const judged = judgedWords(rows);
  const how = judged === null ? '' : `; ${judged}`;
  const total = rows.length + statements.filter(({ verdict }) => verdict !== 'information').length;
  if (answer !== 'within') {
    const notStated = open === 0 ? '' : `, of which ${String(open)} cannot be stated`;
    return `verdict: ${answer}${areFixesRefused ? '; some fixes are refused' : ''}${total === 0 ? '' : `; ${count('within')} within, ${count('review')} for review, ${count('no')} no${notStated}${how}`}`;
  }
  // Statements for information judge nothing: without anything within there is no yes to give.
  if (total === 0)
    return statements.length > 0
      ? 'verdict: nothing was judged; no difference was held against a limit'
      : 'verdict: within';
  if (rows.length > 0 && !anyLimit(rows))
    return `verdict: agrees with its stated uncertainty; no limit was set; ${count('within')} of ${String(total)}`;
  return `verdict: within; ${count('within')} of ${String(total)}${how}`;
}

/** Points measured from two bases: how many misclose, the mean, and the slope with distance, for each pair of bases. */
export function misclosureLines(misclosures: readonly BaseMisclosure[]): readonly string[] {
  const pairs = new Map<string, BaseMisclosure[]>();
  for (const misclosure of misclosures) {
    const [a, b] = misclosure.bases;
    const isTurned = b < a;
    const key = isTurned ? `${b} to ${a}` : `${a} to ${b}`;
    const { eastM, northM, upM } = misclosure.difference;
    const turned = isTurned ? { ...misclosure, difference: { eastM: -eastM, northM: -northM, upM: -upM } } : misclosure;
    pairs.set(key, [...(pairs.get(key) ?? []), turned]);
  }
  return [...pairs].flatMap(([key, list]) => {
    const beyond = list.filter(({ chiSquare }) => chiSquare !== null && chiSquare > CHI_SQUARE_3_95).length;
    const mean = (['eastM', 'northM', 'upM'] as const).map(
      (axis) => sampleStatistics(list.map(({ difference }) => difference[axis])).mean,
    );
    const [east = 0, north = 0, up = 0] = mean.map((value) => value * 1000);
    const placed = list.flatMap(({ difference, distanceM }) =>
      distanceM === null ? [] : [{ up: difference.upM, km: distanceM / 1000 }],
    );
    const slope = leastSquaresLine(
      placed.map((entry) => entry.up),
      [placed.map((entry) => entry.km)],
    )?.terms[1];
    const slopeText =
      slope === undefined
        ? ''
        : `, height slope ${formatFixed(slope.estimate * 1000, 2)} ± ${formatFixed(slope.halfWidth95 * 1000, 2)} mm/km`;
    return [
      `  bases ${key}: ${String(list.length)} ${list.length === 1 ? 'point' : 'points'}, ${String(beyond)} beyond χ² 7.81; mean east ${formatFixed(east, 1)}, north ${formatFixed(north, 1)}, height ${formatFixed(up, 1)} mm${slopeText}`,
    ];
  });
}
