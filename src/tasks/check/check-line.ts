import type { LimitVerdict } from '../../core/quality/standards/limit-verdict.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { Answer } from '../../records/runs/run-answer.js';
import { answerOfVerdict } from './check-answer.js';
import { measuredPoint } from './check-row-packing.js';
import { pointClass } from './judge/check-tolerances-classes.js';
import type { PointClass } from './judge/check-tolerances-classes.js';
import { judgedBy } from './judge/check-tolerances-judged-by.js';
import type { JudgedBy } from './judge/check-tolerances-judged-by.js';
import { tightest } from './judge/check-tolerances-setup.js';
import type { CheckKind, CheckRow } from './judge/check-tolerances-setup.js';

/** A comparison with what its table says of it beside its own figures. */
export interface ComparedLine {
  readonly row: CheckRow;
  /** Length of the difference in plan, metres; null where it was not compared. */
  readonly planM: number | null;
  /** The limits with the least margin; null where none was applied. */
  readonly horizontal: LimitVerdict | null;
  readonly up: LimitVerdict | null;
  readonly planJudgedBy: JudgedBy | null;
  readonly heightJudgedBy: JudgedBy | null;
}

/** A row of the table of a check: a comparison, or under a standard of classes a point. */
export interface CheckLine {
  readonly check: CheckKind | 'class';
  readonly pointId: string;
  readonly occupation: string;
  /** Null: nothing was judged. */
  readonly answer: Answer | null;
  readonly reasons: readonly ProblemCode[];
  /** Null where nothing was compared. */
  readonly compared: ComparedLine | null;
  /** The class of the measured point; null where no standard asks for it, or there is no such point. */
  readonly pointClass: PointClass | null;
}

const STATED: readonly ProblemCode[] = Object.freeze([]);
const UNSTATED: readonly ProblemCode[] = Object.freeze(['check-no-sigma'] as const);

/** The line of a comparison. */
export function comparisonLine(row: CheckRow, pointClass: PointClass | null = null): CheckLine {
  const { firstM, secondM, upM, horizontalStatistic, verticalStatistic, limits } = row;
  // Of a comparison that is packed each is made anew when it is asked for.
  const known = { firstM, secondM, upM, horizontalStatistic, verticalStatistic, limits };
  return {
    check: row.check,
    pointId: row.pointId,
    occupation: row.occupation,
    answer: answerOfVerdict(row.verdict),
    reasons: row.reasons,
    compared: {
      row,
      planM: firstM === null || secondM === null ? null : Math.hypot(firstM, secondM),
      horizontal: tightest(known, 'horizontal'),
      up: tightest(known, 'up'),
      planJudgedBy: judgedBy(known, 'plan'),
      heightJudgedBy: judgedBy(known, 'height'),
    },
    pointClass,
  };
}

/** The lines of comparisons, each made as it is asked for. */
export function* comparisonLines(rows: Iterable<CheckRow>): Generator<CheckLine> {
  for (const row of rows) yield comparisonLine(row);
}

/** The comparisons with the class of each measured point, then one line of check `class` for every point. */
export function* classLines(rows: Iterable<CheckRow>, points: Iterable<PointRow>): Generator<CheckLine> {
  for (const row of rows) {
    const measured = measuredPoint(row);
    yield comparisonLine(row, measured === null ? null : pointClass(measured));
  }
  for (const point of points) {
    const found = pointClass(point);
    const isStated = found.circle95M !== null;
    yield {
      check: 'class',
      pointId: point.pointId,
      occupation: point.occupation,
      answer: isStated ? null : 'no',
      reasons: isStated ? STATED : UNSTATED,
      compared: null,
      pointClass: found,
    };
  }
}
