import type { SurveySpan } from './parts/survey-span.js';
import type { ProblemCode } from '../codes/problem-codes.js';
import type { ReportAxis, ReportPlace } from './reduction-report.js';
import type { Answer } from '../runs/run-answer.js';
import type { LocalVector } from '../points/point.js';
import type { PageFacts } from './parts/page-facts.js';

/** What a standard lets one say; what only informs judges nothing. */
export interface ReportStatement {
  readonly what: string;
  readonly text: string;
  readonly verdict: ReportCheck['verdict'] | 'information';
  /** What mends it, where it is of the files and not of a standard. */
  readonly mend?: string;
}

/** One comparison as a page shows it. Differences are measured minus known, along the system's own axes. */
export interface ReportCheck {
  readonly kind: 'control' | 'repeat' | 'base-pair' | 'design' | 'line';
  readonly pointId: string;
  readonly occupation: string;
  readonly against: string;
  readonly firstM: number | null;
  readonly secondM: number | null;
  readonly upM: number | null;
  /** Axes in metres; null where there is no place. */
  readonly place: ReportPlace | null;
  readonly distanceM: number | null;
  /** Point minus base. */
  readonly heightDifferenceM: number | null;
  readonly separationS: number | null;
  readonly horizontalStatistic: number | null;
  readonly verticalStatistic: number | null;
  readonly horizontalLimitM: number | null;
  readonly verticalLimitM: number | null;
  /** 95 % of the difference by its covariance: radius in plan, and half-interval in height; null: none is stated. */
  readonly circle95M: number | null;
  readonly vertical95M: number | null;
  /** Along a line of the design, and the offset from it to the right; null: compared with no line. */
  readonly line: { readonly chainageM: number; readonly rightM: number } | null;
  readonly verdict: 'within' | 'review' | 'exceeds' | 'not-stated';
  /** Which of a comparison that exceeds does: an axis is within where only the other one exceeds. */
  readonly exceeds: { readonly plan: boolean; readonly height: boolean };
  readonly reasons: readonly ProblemCode[];
}

/** What the control residuals of one axis say together. */
export interface ReportAxisStatistics {
  readonly axis: string;
  readonly count: number;
  readonly meanM: number;
  readonly standardDeviationM: number | null;
  readonly rmseM: number;
  readonly rmseLow95M: number;
  readonly rmseHigh95M: number;
  readonly isBiased: boolean;
}

/** A cause that explains the residuals, best first. */
export interface ReportCause {
  readonly title: string;
  readonly subject: string;
  /** Size found and the half-width of its 95 % interval; null: stated, not estimated. */
  readonly estimates: readonly {
    readonly name: string;
    readonly value: number;
    readonly halfWidth95: number | null;
    readonly unit: string;
    readonly decimals: number;
  }[];
  readonly rmsAfterM: number;
  readonly gain: number;
  readonly confirm: string;
  /** These residuals cannot tell it from the other causes so marked. */
  readonly isTied: boolean;
}

/** A cause in one occupation, once the cause that lies nearest is taken off. */
export type ReportSingle = Pick<ReportCause, 'title' | 'subject' | 'estimates' | 'confirm'>;

export interface ReportCauses {
  readonly verdict: 'nothing-to-explain' | 'named' | 'two-causes' | 'no-single-cause' | 'too-few-values';
  readonly rmsBeforeM: number;
  /** None where no single cause explains. */
  readonly causes: readonly ReportCause[];
  /** Two that explain together, each with the titles of those it cannot be told from. */
  readonly together: readonly (ReportCause & { readonly or: readonly string[] })[];
  /** Where none does: the nearest, and what single occupations add once it is taken off. */
  readonly nearest: ReportCause | null;
  readonly singles: readonly ReportSingle[];
  /** The nearest and the single occupations together leave noise alone. */
  readonly areSinglesEnough: boolean;
}

/** Why occupations of a point may disagree. */
export interface ReportRepeatCause {
  readonly pointId: string;
  readonly title: string;
  readonly confirm: string;
  readonly planM: number;
  readonly upM: number;
  /** The occupation that stands alone; null: two cannot say which is wrong. */
  readonly odd: string | null;
}

/** Raw fixes counted by the limits, where some were given. */
export interface ReportFixes {
  readonly seen: number;
  readonly accepted: number;
  readonly standCount: number;
  /** By code, those refused most first: how many epochs or whole stands, and at which stands how many. */
  readonly epochs: readonly ReportRefusal[];
  readonly stands: readonly ReportRefusal[];
}

export interface ReportRefusal {
  readonly code: ProblemCode;
  readonly count: number;
  /** Most first. */
  readonly at: readonly { readonly stand: string; readonly count: number }[];
}

/** Everything the page of a check says. Lists are bounded; what was left out is counted. */
export interface CheckReport extends PageFacts {
  readonly title: string | null;
  readonly answer: Answer;
  /** Null: the points came without a system. */
  readonly systemName: string | null;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly bases: readonly { readonly id: string; readonly place: ReportPlace | null }[];
  readonly checks: readonly ReportCheck[];
  readonly checkCount: number;
  readonly exceedCount: number;
  readonly reviewCount: number;
  /** When the points compared were measured; null: they state no time. */
  readonly surveyed: SurveySpan | null;
  /** How plan and height were judged, in words; null: nothing was compared. */
  readonly judged: string | null;
  /** What is said of a day noisier than its model. */
  readonly day: readonly string[];
  /** Points of the input that the reduction rejected, or left for review, and of these those that nothing checked in an adjustment. */
  readonly inputDoubts: {
    readonly rejected: number;
    readonly review: number;
    readonly unchecked: number;
    /** Names, each once. */
    readonly rejectedIds: readonly string[];
    readonly reviewIds: readonly string[];
  };
  /** How many are beyond in plan, in height, and of each kind of comparison. */
  readonly beyond: {
    readonly plan: number;
    readonly height: number;
    readonly byKind: readonly { readonly kind: ReportCheck['kind']; readonly count: number }[];
  };
  readonly withinCount: number;
  /** Null: none were given. */
  readonly fixes: ReportFixes | null;
  /** The largest difference of each axis that has any; null: nothing was compared there. */
  readonly worst: { readonly plan: ReportCheck | null; readonly height: ReportCheck | null };
  readonly statistics: readonly ReportAxisStatistics[];
  /** Radius that holds 95 % by the RMSE of the control residuals, the bias included; null with too few of them. */
  readonly circle95: {
    readonly radiusM: number;
    readonly count: number;
    /** The standard lets it be stated as an accuracy. */
    readonly isStated: boolean;
  } | null;
  /** The sets of a field procedure against its screen; null: no such procedure was run. */
  readonly sets: {
    readonly distanceLimitM: number;
    readonly heightLimitM: number;
    readonly rows: readonly {
      /** Series and set: `2.4`. */
      readonly name: string;
      readonly distanceErrorM: number;
      readonly heightErrorM: number;
    }[];
  } | null;
  readonly statements: readonly ReportStatement[];
  /** Null: none was looked for. */
  readonly causes: ReportCauses | null;
  /** Points whose occupations disagree, and what would do that. */
  readonly repeatCauses: readonly ReportRepeatCause[];
  /** The one vector that most of those lie by, along east, north and up; null: there is none. */
  readonly repeatOffset: {
    readonly offset: LocalVector;
    readonly count: number;
    readonly of: number;
  } | null;
}
