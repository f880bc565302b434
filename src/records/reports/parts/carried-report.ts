import type { SurveySpan } from './survey-span.js';
import type { ProblemCode } from '../../codes/problem-codes.js';
import type { Answer } from '../../runs/run-answer.js';
import type { ReportAxis, ReportPlace } from '../reduction-report.js';
import type { PageFacts } from './page-facts.js';

/** A point of the plan. */
export interface CarriedMark {
  readonly pointId: string;
  readonly place: ReportPlace;
  /** Radius of its 95 % circle; null: not known. */
  readonly circle95M: number | null;
  readonly isInDoubt: boolean;
}

/** A row of the table of points. */
export interface CarriedRow {
  readonly pointId: string;
  /** As the data file has them, after the identifier. */
  readonly cells: readonly string[];
  readonly circle95M: number | null;
  readonly reasons: readonly ProblemCode[];
}

/** Rows that were refused for one reason, with the first lines. */
export interface RefusedRows {
  readonly code: ProblemCode;
  readonly count: number;
  readonly firstLines: readonly number[];
}

/** Points in doubt for one reason. */
export interface DoubtedPoints {
  readonly code: ProblemCode;
  readonly count: number;
  readonly firstId: string;
}

/** One step of the way. */
export interface CarriedStep {
  readonly name: string;
  readonly id: string;
  /** What its publisher states, metres; null: nothing is stated, or it moves nothing. */
  readonly accuracyM: number | null;
  /** Where its parameters come from. */
  readonly origin: string | null;
}

/** The largest figure of a run, and whose it is. */
export interface LargestFigure {
  readonly valueM: number;
  readonly pointId: string;
}

/** Everything the page of carried points says. */
export interface CarriedReport extends PageFacts {
  readonly answer: Answer;
  /** When the points were measured; null: none states it. */
  readonly surveyed: SurveySpan | null;
  /** `from A to B`. */
  readonly way: string;
  /** What the positions of the table are in. */
  readonly systemName: string;
  /** Of the plan. */
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly counts: {
    readonly carried: number;
    readonly refused: number;
    /** Rows that never had a position. */
    readonly withoutPlace: number;
    readonly inDoubt: number;
  };
  /** Names of the cells of a row, as in the data file. */
  readonly columns: readonly string[];
  /** Angles are in degrees, minutes and seconds. */
  readonly hasDms: boolean;
  /** Those in doubt first, of these the farthest outside the control of a site. */
  readonly rows: readonly CarriedRow[];
  readonly marks: readonly CarriedMark[];
  readonly hull: readonly ReportPlace[] | null;
  readonly refused: readonly RefusedRows[];
  readonly doubts: readonly DoubtedPoints[];
  readonly steps: readonly CarriedStep[];
  /** What else was said of the run. */
  readonly statements: readonly string[];
  /** Of these, how many points lie outside each area, and the farthest. */
  readonly outside: readonly string[];
  /** Largest 95 % circle; of a site, that of the fit itself. Null: no point has one. */
  readonly largestCircle95: LargestFigure | null;
  /** Of a site with heights: the largest 95 % of a height of the fit itself. Null: it has none. */
  readonly largestHeight95: LargestFigure | null;
  /** The figures of trust are those of a site, and leave that of the point out. */
  readonly isOfSite: boolean;
  readonly farthestOutside: LargestFigure | null;
  /** Figures of trust that were left out because they do not hold any more. */
  readonly leftOut: readonly string[];
  readonly next: readonly string[];
}
