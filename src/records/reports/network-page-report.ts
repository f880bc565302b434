import type { SurveySpan } from './parts/survey-span.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { PositionalSummary } from '../points/reduced-point.js';
import type { Answer } from '../runs/run-answer.js';
import type {
  NetworkComponent,
  NetworkControlResult,
  NetworkObservationResult,
  NetworkDistortion,
  NetworkParameter,
} from './network-report.js';
import type { DeterminedBase, NetworkPoint } from './network-report.js';
import type { ReportAxis, ReportPlace } from './reduction-report.js';
import type { PageFacts } from './parts/page-facts.js';

/** A 95 % ellipse on the plan. */
export interface PlottedEllipse {
  readonly place: ReportPlace;
  readonly summary: PositionalSummary;
  /** Of its major axis, degrees clockwise from the top of the plan. */
  readonly bearingDeg: number;
}

/** A station of the page: its figures, and where it stands on the plan. */
export interface PlottedStation {
  readonly point: NetworkPoint;
  readonly isControl: boolean;
  /** Null: it has no place, or none on the grid. */
  readonly ellipse: PlottedEllipse | null;
}

/** An observation between two places of the plan. */
export interface PlottedLine {
  readonly from: ReportPlace;
  readonly to: ReportPlace;
  readonly answer: Answer;
  /** One of its ends is control that holds, and not only as the base of many lines; absent: no. */
  readonly meetsControl?: boolean;
}

/** A residual in units of its sigma, as the network held by one station of each part judges it. */
export interface PlottedResidual {
  readonly name: string;
  readonly axis: string;
  readonly w: number;
  readonly isFoul: boolean;
}

/** The test of a whole. */
export interface WholeTest {
  readonly weightedSquares: number;
  readonly degreesOfFreedom: number;
  readonly limits: readonly [number, number] | null;
  readonly answer: 'within' | 'too-large' | 'too-small' | 'not-tested';
}

/** What to look at first, by name and axis. */
export interface WorstOfNetwork {
  readonly what: string;
  readonly axis: string;
  readonly value: number;
  /** Of one number; null: it cannot be tested. */
  readonly limit: number | null;
  /** What the residuals of all multiply the stated sigmas by, where they say how large these are; null: the stated hold. */
  readonly sigmaFactor: number | null;
  readonly isFoul: boolean;
}

/** Everything the page of an adjusted network says. */
export interface NetworkPageReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  readonly reasons: readonly ProblemCode[];
  /** Null: places are geocentric, and the plan is laid out about the middle. */
  readonly systemName: string | null;
  readonly axes: readonly [ReportAxis, ReportAxis];
  /** When the occupations were measured; null: none states its time. */
  readonly surveyed: SurveySpan | null;
  readonly datum: string;
  readonly anchors: readonly string[];
  readonly counts: {
    readonly stations: number;
    readonly observations: number;
    readonly control: number;
    readonly unchecked: number;
    readonly failed: number;
    readonly excluded: number;
  };
  readonly freeTest: WholeTest;
  readonly finalTest: WholeTest;
  readonly scale: number;
  readonly worst: WorstOfNetwork | null;
  /** Nothing tests the one station of control that holds the network. */
  readonly isUntied: boolean;
  /** Of the control that fails or was left out, the one farthest off, in the direction in which it is; null: none. */
  readonly worstControl: {
    readonly id: string;
    readonly axis: 'east' | 'north' | 'up';
    readonly differenceM: number;
    readonly test: number;
    readonly limit: number;
  } | null;
  readonly next: readonly string[];
  /** What control that fails does to the coordinates that it holds; null: nothing beyond their uncertainty. */
  readonly pulled: string | null;
  /** Those that fail, then those that nothing checks, then the others: what a page has room for. */
  readonly stations: readonly PlottedStation[];
  readonly stationCount: number;
  /** Between pairs asked for; without any, from stations to the nearest control. */
  readonly relative: readonly (PlottedEllipse & {
    readonly fromId: string;
    readonly toId: string;
    readonly distanceM: number;
  })[];
  readonly arePairsAsked: boolean;
  readonly lines: readonly PlottedLine[];
  readonly residuals: readonly PlottedResidual[];
  readonly residualCount: number;
  /** At which each observation is tested. */
  readonly level: number;
  readonly observations: readonly { readonly row: NetworkObservationResult; readonly where: string }[];
  readonly observationCount: number;
  readonly control: readonly NetworkControlResult[];
  readonly removed: readonly { readonly what: string; readonly why: string }[];
  readonly parameters: readonly NetworkParameter[];
  /** Null: none were looked for. */
  readonly distortions: {
    readonly level: number;
    readonly rows: readonly NetworkDistortion[];
    readonly count: number;
  } | null;
  readonly components: readonly NetworkComponent[];
  readonly bases: readonly DeterminedBase[];
}
