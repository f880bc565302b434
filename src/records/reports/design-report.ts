import type { SurveySpan } from './parts/survey-span.js';
import type { Answer } from '../runs/run-answer.js';
import type { PageFacts } from './parts/page-facts.js';
import type { ReportAxis, ReportPlace } from './reduction-report.js';

/** A point of a project grid on its page. */
export interface DesignReportPoint {
  readonly pointId: string;
  readonly place: ReportPlace;
  readonly heightM: number;
  readonly distortion: number;
}

/** Everything the page of a project grid says. */
export interface DesignReport extends PageFacts {
  readonly answer: Answer;
  /** When the points were measured; null: none states it. */
  readonly surveyed: SurveySpan | null;
  readonly name: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly baseName: string;
  readonly method: string;
  readonly proj: string;
  readonly wkt: string;
  readonly measure: 'largest' | 'p95';
  readonly distortion: number;
  readonly heightCost: number;
  readonly heightsAreOrthometric: boolean;
  readonly candidates: readonly { readonly method: string; readonly distortion: number }[];
  /** How many there are; those of `points` are farthest from 0. */
  readonly count: number;
  readonly points: readonly DesignReportPoint[];
}
