import { isUnchecked } from '../../core/quality/unchecked-points.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import { entryAt } from '../../records/present.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { Problem } from '../../records/problem.js';
import type {
  CarriedMark,
  CarriedRow,
  DoubtedPoints,
  LargestFigure,
  RefusedRows,
} from '../../records/reports/parts/carried-report.js';
import type { ReportPlace } from '../../records/reports/reduction-report.js';
import { keepMostNeeded } from '../repeats/keep-most-needed.js';
import type { PointOnTheWay } from '../transform/point-on-the-way.js';
import { circleOfSite, circleReader, height95OfSite } from './circles-of-rows.js';
import type { SurveySpan } from '../../records/reports/parts/survey-span.js';
import { collectTimes } from './times-of-rows.js';
import { keepEvenly } from './evenly-kept.js';

/** Rows of the table; a page stays well under two megabytes. */
const MOST_ROWS = 1000;
/** Points that the plan may pick from; those in doubt come from the table. */
const MOST_MARKS = 2000;
const MOST_LINES = 3;

/** A mark before its place on the plan is known: in a plane, or in space. */
export type PlacedMark = Omit<CarriedMark, 'place'> & { readonly place: ReportPlace | GeocentricPoint };

/** What was gathered of a run. */
export interface CarriedPoints {
  readonly rows: readonly CarriedRow[];
  readonly marks: readonly PlacedMark[];
  readonly inDoubt: number;
  /** When the points were measured; null: none says it. */
  readonly surveyed: SurveySpan | null;
  readonly refused: readonly RefusedRows[];
  readonly doubts: readonly DoubtedPoints[];
  readonly largestCircle95: LargestFigure | null;
  readonly largestHeight95: LargestFigure | null;
  readonly farthestOutside: LargestFigure | null;
}

/** Gathers carried points for their page, in memory that does not grow with the run. */
export interface CarriedPointsCollector {
  /** A point that arrived, and what was told of it. */
  readonly add: (row: PlaceRow, point: PointOnTheWay, told: readonly ProblemCode[]) => void;
  readonly refuse: (problems: readonly Problem[], line: number) => void;
  readonly gathered: () => CarriedPoints;
}

/**
 * An empty collector. Given: names of the columns that pass through, and how their numbers are written; the place of a point; its cells after the
 * identifier, as they are written.
 */
export function collectCarriedPoints(
  passThroughNames: readonly string[],
  decimalComma: boolean,
  placeOf: (point: PointOnTheWay) => ReportPlace | GeocentricPoint,
  cellsOf: (row: PlaceRow, point: PointOnTheWay) => readonly string[],
): CarriedPointsCollector {
  const rows = keepMostNeeded<CarriedRow & { readonly mark: PlacedMark; readonly outsideM: number }>(MOST_ROWS);
  const marks = keepEvenly<PlacedMark>(MOST_MARKS);
  const refused = new Map<ProblemCode, { count: number; firstLines: number[] }>();
  const doubts = new Map<ProblemCode, { count: number; firstId: string }>();
  const circleOf = circleReader(passThroughNames, decimalComma);
  const times = collectTimes(passThroughNames);
  const reasonsAt = passThroughNames.findIndex((name) => name.toLowerCase() === 'reasons');
  let inDoubt = 0;
  const [circles, heights, distances] = [keepLargest(), keepLargest(), keepLargest()];
  return {
    add(row, point, told) {
      times.add(row);
      const { pointId } = row;
      const unchecked = reasonsAt >= 0 && isUnchecked({ reasons: entryAt(row.passThrough, reasonsAt) });
      const reasons: readonly ProblemCode[] = [...new Set<ProblemCode>([...told, ...(unchecked ? UNCHECKED : [])])];
      const isInDoubt = reasons.length > 0;
      const circle95M = point.site === null ? circleOf(row) : circleOfSite(point.site);
      // Inside the control, and without a site, nothing is outside.
      const outsideM = point.site?.outsideM ?? 0;
      if (isInDoubt) inDoubt += 1;
      for (const code of reasons) {
        const held = doubts.get(code);
        if (held === undefined) doubts.set(code, { count: 1, firstId: pointId });
        else held.count += 1;
      }
      circles.add(circle95M, pointId);
      heights.add(height95OfSite(point.site), pointId);
      if (outsideM > 0) distances.add(outsideM, pointId);
      const mark = (): PlacedMark => ({ pointId, place: placeOf(point), circle95M, isInDoubt });
      const need = isInDoubt ? 2 : outsideM > 0 ? 1 : 0;
      if (rows.wants(need))
        rows.add(need, { pointId, cells: cellsOf(row, point), circle95M, reasons, outsideM, mark: mark() });
      if (isInDoubt || !marks.wants()) marks.skip();
      else marks.add(mark());
    },
    refuse(problems, line) {
      countRefused(refused, problems, line);
    },
    gathered() {
      const kept = rows.items();
      return {
        rows: [...kept].sort((a, b) => rankOf(b) - rankOf(a) || b.outsideM - a.outsideM),
        marks: [...marks.items(), ...kept.flatMap(({ mark }) => (mark.isInDoubt ? mark : []))],
        inDoubt,
        surveyed: times.result(),
        refused: byCount(refused),
        doubts: byCount(doubts),
        largestCircle95: circles.result(),
        largestHeight95: heights.result(),
        farthestOutside: distances.result(),
      };
    },
  };
}

/** Those in doubt first, then those outside the control. */
function rankOf({ reasons, outsideM }: Pick<CarriedRow, 'reasons'> & { readonly outsideM: number }): number {
  return reasons.length > 0 ? 2 : outsideM > 0 ? 1 : 0;
}

/** Each kind of error of a row counts once. */
function countRefused(
  refused: Map<ProblemCode, { count: number; firstLines: number[] }>,
  problems: readonly Problem[],
  line: number,
): void {
  for (const code of new Set(problems.filter(({ severity }) => severity === 'error').map((one) => one.code))) {
    const held = refused.get(code) ?? { count: 0, firstLines: [] }; // The first of its kind.
    held.count += 1;
    if (held.firstLines.length < MOST_LINES) held.firstLines.push(line);
    refused.set(code, held);
  }
}

const UNCHECKED = ['network-unchecked'] as const;

/** The largest of what is added, and whose it is; what is not known is not large. */
function keepLargest(): {
  readonly add: (valueM: number | null, pointId: string) => void;
  readonly result: () => LargestFigure | null;
} {
  let largest: LargestFigure | null = null;
  return {
    add(valueM, pointId) {
      if (valueM !== null && (largest === null || valueM > largest.valueM)) largest = { valueM, pointId };
    },
    result: () => largest,
  };
}

function byCount<T extends { readonly count: number }>(
  held: ReadonlyMap<ProblemCode, T>,
): readonly (T & { readonly code: ProblemCode })[] {
  return [...held]
    .map(([code, one]) => ({ ...one, code }))
    .sort((a, b) => b.count - a.count || (a.code < b.code ? -1 : 1));
}
