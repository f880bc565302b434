import type { SurveySpan } from './parts/survey-span.js';
import type { Answer } from '../runs/run-answer.js';
import type { ReportAxis, ReportPlace } from './reduction-report.js';
import type { PageFacts } from './parts/page-facts.js';

/** A column of the data file, and what it holds. */
export interface JoinColumn {
  readonly name: string;
  readonly isNumber: boolean;
  readonly describe: string;
}

/** A point on the plan. */
export interface JoinMark {
  readonly pointId: string;
  readonly place: ReportPlace;
  /** Set out by this run, not read. */
  readonly isNew: boolean;
}

/** A line of the plan; one without what needs a height is in doubt. */
export interface JoinLine {
  readonly from: ReportPlace;
  readonly to: ReportPlace;
  readonly isComplete: boolean;
}

/** The line whose ground distance differs most from that on the grid, for its length. */
export interface GroundDifference {
  readonly fromId: string;
  readonly toId: string;
  readonly gridM: number;
  readonly groundM: number;
}

/** Everything the page of joined points says. */
export interface JoinReport extends PageFacts {
  readonly answer: Answer;
  /** When the points were measured; null: none states it. */
  readonly surveyed: SurveySpan | null;
  readonly mode: 'lines' | 'polar' | 'area';
  readonly systemName: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly counts: {
    /** Lines, points or areas in the data file. */
    readonly made: number;
    readonly refused: number;
    /** Rows that never had a position. */
    readonly withoutPlace: number;
    /** Results without what needs a height. */
    readonly withoutHeight: number;
    /** The first of these by name. */
    readonly withoutHeightIds: readonly string[];
    /** Lines from a point to itself, which have no direction. */
    readonly coincident: number;
  };
  readonly columns: readonly JoinColumn[];
  readonly hasDms: boolean;
  /** Cells as the data file has them; those that lack something first. */
  readonly rows: readonly (readonly string[])[];
  readonly marks: readonly JoinMark[];
  readonly lines: readonly JoinLine[];
  readonly outlines: readonly (readonly ReportPlace[])[];
  /** Null: no line has a distance on the ground. */
  readonly groundDifference: GroundDifference | null;
  readonly statements: readonly string[];
  readonly next: readonly string[];
}
