import type { PointRow } from '../../points/point-row.js';
import type { ProblemCode } from '../../codes/problem-codes.js';
import type { Answer } from '../../runs/run-answer.js';

/** How the scale of a site is had: estimated, or stated (1: as the grid). */
export type SiteScale =
  { readonly kind: 'free' } | { readonly kind: 'stated'; readonly scale: number } | { readonly kind: 'ground' };

export type SiteVertical = 'plane' | 'shift' | 'surface' | 'none';

/** Limits for check points, metres; null: only what their uncertainty allows. */
export interface SiteLimits {
  readonly horizontalM: number | null;
  readonly verticalM: number | null;
}

/** A residual of one coordinate with its tests; null where a test is not possible. */
export interface SiteResidual {
  /** Fitted (or, for a check point, predicted) minus control, metres. */
  readonly residualM: number;
  /** One sigma of a check point's difference; null for a fitted point, or where no sigma is stated. */
  readonly sigmaM: number | null;
  readonly redundancy: number | null;
  readonly baarda: number | null;
  readonly pope: number | null;
  readonly leftOutM: number | null;
  readonly detectableM: number | null;
}

/** A control point after the fit. */
export interface SiteResidualRow {
  readonly pointId: string;
  /** `fit` or `check`, in plan and in height alike. */
  readonly role: 'fit' | 'check';
  readonly control: PointRow;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly east: SiteResidual | null;
  readonly north: SiteResidual | null;
  readonly height: SiteResidual | null;
  /** Radius of the circle that holds the residual in plan with 95 % where stated sigmas are right; null: none is stated, or nothing checks it. */
  readonly circle95M: number | null;
  /** The limit in plan of a check point, where one was set. */
  readonly limitM: number | null;
  /** The word of every output; `review` where hardly anything checks the point. */
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
}
