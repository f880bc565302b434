import type { ReportAxis, ReportPlace } from './reduction-report.js';
import type { Conditions } from '../session.js';
import type { Answer } from '../runs/run-answer.js';
import type { PageFacts } from './parts/page-facts.js';

/** A place to be served, with what is predicted of it under the conditions judged. */
export interface PlanReportTarget {
  readonly id: string;
  readonly place: ReportPlace | null;
  readonly isPoint: boolean;
  readonly baseId: string;
  readonly baselineM: number;
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
  readonly circle95M: number;
  readonly vertical95M: number;
  readonly isWithin: boolean;
  /** What would have to change, in words. */
  readonly wayOut: string;
  /** Its tolerance is met at no distance from a base. */
  readonly isHopeless: boolean;
}

export interface PlanReportBase {
  readonly id: string;
  readonly place: ReportPlace | null;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
  readonly targets: number;
  readonly outside: number;
  readonly farthestM: number | null;
  /** The name of the farthest place; null as above. */
  readonly farthestId: string | null;
}

/** A line at the usable range about a base. */
export interface PlanReportRing {
  readonly baseId: string;
  /** Place of its pair in the list of tolerances. */
  readonly tolerance: number;
  readonly conditions: Conditions;
  readonly radiusM: number;
  readonly places: readonly ReportPlace[];
}

/** Predicted 95 % with distance, at equal heights. */
export interface PlanReportCurve {
  readonly conditions: Conditions;
  readonly places: readonly { readonly distanceM: number; readonly circle95M: number; readonly vertical95M: number }[];
}

/** A candidate, each as the only base. */
export interface PlanReportCandidate {
  readonly id: string;
  readonly isChosen: boolean;
  /** Largest distance over usable range; up to 1 it serves every place. */
  readonly worstRatio: number;
  readonly worstDistanceM: number;
  readonly served: number;
  readonly worstPlaces: readonly string[];
  /** Null: not known. */
  readonly cellular: boolean | null;
  readonly skyScore: number | null;
  readonly cost: number | null;
}

/** All candidates of a plan, and those that did not meet its demands. */
export interface PlanReportRanking {
  readonly candidates: readonly PlanReportCandidate[];
  readonly excluded: readonly { readonly id: string; readonly reason: string }[];
}

export interface PlanReportVisit {
  readonly baseId: string;
  readonly pointId: string;
  readonly role: string;
  readonly occupation: number;
  readonly driveM: number;
  readonly arriveS: number;
  readonly startS: number;
  readonly endS: number;
}

export interface PlanReportStream {
  readonly kind: string;
  readonly rateHz: number;
  readonly hours: number;
  readonly rovers: number;
  readonly messages: readonly { readonly constellation: string; readonly bytes: number }[];
  readonly observationBytesPerS: number;
  readonly companionBytesPerS: number;
  readonly transportBytesPerS: number;
  readonly totalKbitPerS: number;
  readonly baseUplinkMb: number;
  readonly roverDownlinkMb: number;
  readonly billedMb: number;
}

/** Everything the page of a plan says. Lists are bounded; what was left out is counted. */
export interface PlanReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  /** The grid, or distances and azimuths from the first base where none is set. */
  readonly systemName: string;
  readonly frameName: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly conditions: Conditions;
  readonly epochCount: number;
  readonly bases: readonly PlanReportBase[];
  readonly targets: readonly PlanReportTarget[];
  readonly targetCount: number;
  readonly outsideCount: number;
  readonly withoutHeightCount: number;
  readonly withinBy: readonly { readonly conditions: Conditions; readonly count: number }[];
  readonly tolerances: readonly {
    readonly horizontalM: number | null;
    readonly verticalM: number | null;
    readonly targets: number;
    readonly ranges: readonly {
      readonly conditions: Conditions;
      readonly rangeM: number;
      readonly decidedBy: 'horizontal' | 'vertical';
    }[];
  }[];
  readonly rings: readonly PlanReportRing[];
  /** Candidates as the only base, the best first; null: there were none to rank. */
  readonly ranking: PlanReportRanking | null;
  readonly curves: readonly PlanReportCurve[];
  /** Null: no timetable was asked for. */
  readonly visits: readonly PlanReportVisit[] | null;
  /** How many there were before the list was bounded. */
  readonly visitCount: number;
  readonly leftOut: readonly { readonly baseId: string; readonly pointId: string; readonly occupation: number }[];
  /** Fewer days were laid out than asked for, because what is left fits into none. */
  readonly fitsNoDay: boolean;
  readonly stream: PlanReportStream | null;
  readonly cautions: readonly { readonly text: string; readonly source: string }[];
}
