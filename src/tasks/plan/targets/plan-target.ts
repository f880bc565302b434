import type { BaseCandidate, PlanPoint } from '../../../core/planning/plan-point.js';
import type { CandidateDemands } from '../../../core/planning/siting/candidate-filter.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import type { PointWithTolerance, PredictionSettings } from '../../../core/planning/prediction.js';
import type { RemedyLimits } from '../../../core/planning/remedy.js';
import type { Conditions } from '../../../records/session.js';

/** A place to be served: a work point, or a point put on a line or in an area of the input. */
export interface PlanTarget extends PointWithTolerance {
  readonly kind: 'point' | 'vertex' | 'edge' | 'interior';
  /** The line or area it stands for; null for a work point. */
  readonly featureId: string | null;
  /** Along the line or boundary, metres; null in the interior of an area and for work points. */
  readonly chainageM: number | null;
  /** Cells of the input's other columns, for work points. */
  readonly passThrough: readonly string[];
}

/** What is asked about the base. */
export type PlanSiting =
  | { readonly kind: 'given'; readonly base: PlanPoint }
  | { readonly kind: 'free' }
  | ({ readonly kind: 'best' } & CandidateChoice)
  | ({ readonly kind: 'k'; readonly k: number } & CandidateChoice)
  | ({ readonly kind: 'fewest' } & CandidateChoice);

export interface CandidateChoice {
  readonly candidates: readonly BaseCandidate[];
  readonly demands: CandidateDemands;
  /** Ratios closer than this share of the best count as equal (`bestCandidate`). */
  readonly tieFraction: number;
}

/** Everything that is the same for the whole plan. */
export interface PlanSetup {
  readonly geodesic: Geodesic;
  readonly prediction: PredictionSettings;
  /** The conditions that verdicts, ranges of siting and remedies are judged by. */
  readonly conditions: Conditions;
  readonly limits: RemedyLimits;
  readonly siting: PlanSiting;
  /** Error of the base coordinate to be looked at, metres; null: not asked. */
  readonly baseErrorM: number | null;
}
