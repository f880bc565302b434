import type { ReportAxis, ReportPlace } from './reduction-report.js';
import type { SiteResidualRow } from './parts/site-fit.js';
import type { SurveySpan } from './parts/survey-span.js';
import type { SurfaceReport } from './surface-report.js';
import type { Answer } from '../runs/run-answer.js';
import type { PageFacts } from './parts/page-facts.js';

/** A number the fit found, with the half-width of its 95 % interval; null: stated, or nothing checks it. */
export interface SiteParameter {
  readonly name: string;
  readonly value: number;
  readonly halfWidth95: number | null;
  readonly unit: string;
  readonly decimals: number;
}

/** What the fit itself adds to a point so far from the middle of the control, one sigma: worst direction. */
export interface SiteReach {
  readonly distanceM: number;
  readonly horizontalM: number;
  readonly heightM: number | null;
}

/** A height carried from one point to another, held against what is known. */
export interface SiteTransfer {
  /** Against the heights of two benchmarks, or a levelled line. */
  readonly kind: 'benchmarks' | 'levelled';
  readonly fromId: string;
  readonly toId: string;
  readonly distanceM: number;
  readonly knownM: number;
  readonly transferredM: number;
  /** Transferred minus known, and one sigma of it. */
  readonly misclosureM: number;
  readonly sigmaM: number;
  readonly testValue: number;
  readonly classLimitM: number;
  readonly isWithinClass: boolean;
  readonly answer: Answer;
}

/** Heights that a run carried, and the class of levelling they are held against, mm for √km. */
export interface SiteTransfers {
  readonly classMm: number;
  readonly rows: readonly SiteTransfer[];
}

/** Everything the page of a site fit says. */
export interface SiteReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  readonly systemName: string;
  /** When the control was occupied; null: its points state no time. */
  readonly surveyed: SurveySpan | null;
  /** Of the site. */
  readonly axes: readonly [ReportAxis, ReportAxis];
  /** Those to look at first before others. */
  readonly rows: readonly SiteResidualRow[];
  /** By what they are for, and by their verdicts where these are not `within`. */
  readonly counts: { readonly fit: number; readonly check: number; readonly no: number; readonly review: number };
  readonly parameters: readonly SiteParameter[];
  readonly redundancyPlan: number;
  readonly redundancyHeight: number | null;
  readonly variancePlan: number | null;
  readonly varianceHeight: number | null;
  readonly sigmasAreStated: boolean;
  /** Corners of the control, in the site's axes. */
  readonly hull: readonly ReportPlace[];
  readonly radiusM: number;
  readonly bufferM: number;
  readonly spreadRatio: number;
  readonly reach: readonly SiteReach[];
  readonly heightKind: string | null;
  /** Null: heights are not fitted by trend and signal. */
  readonly surface: SurfaceReport | null;
  /** Absent: none were asked for. */
  readonly transfers?: SiteTransfers;
  readonly statements: readonly string[];
  /** Of these what has to be settled before the site is used: what the fit points to, and what would settle it. */
  readonly suspicions: readonly { readonly text: string; readonly mend: string }[];
  /** What the test of a fitted point is held against, Baarda's where sigmas are stated, else Pope's; null: not tested. */
  readonly testLimits: { readonly plan: number | null; readonly height: number | null };
  readonly worst: {
    readonly pointId: string;
    readonly what: 'plan' | 'east' | 'north' | 'height';
    readonly value: number;
    readonly limit: number;
    readonly test: string;
  } | null;
}
