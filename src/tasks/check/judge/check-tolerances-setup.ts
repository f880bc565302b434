import type { AxisSigns } from '../../../core/grid/systems/grid-axes.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import type { GeoidModel } from '../../../core/geoid/geoid-height.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { PrecisionModel } from '../../../core/planning/precision-model.js';
import type { OtherZone } from '../../../core/quality/cause/cause-day.js';
import type { LimitRule, LimitTerm } from '../../../core/quality/standards/limit-rule.js';
import type { LimitVerdict } from '../../../core/quality/standards/limit-verdict.js';
import type { DayVariance } from '../../../records/reports/parts/day-variance.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';

/** The two axes that grid pairs are in, for files with or without a stated system. */
export interface CheckAxes {
  /** Names for columns, without unit: `easting`, `westing`, `east`. */
  readonly first: string;
  readonly second: string;
  /** What their values are multiplied by to count east and north. */
  readonly signs: AxisSigns;
  readonly metresPerUnit: number;
}

/** Everything a check needs besides the points. */
export interface CheckSetup {
  readonly axes: CheckAxes;
  readonly grid: GridSystem | null;
  readonly ellipsoid: Ellipsoid;
  readonly geodesic: Geodesic;
  readonly geoid: GeoidModel | null;
  /** One sigma of geoid heights; null: not stated. */
  readonly geoidSigmaM: number | null;
  /** Coordinate epoch of the session, decimal year; null: not stated. */
  readonly epochYear: number | null;
  readonly bases: readonly PreparedBase[];
  readonly precision: PrecisionModel;
  readonly phaseCentreOffsetsM: readonly number[];
  /** Tilts of the pole are measured and taken off. */
  readonly isTiltMeasured: boolean;
  /** By stand (`point@occupation`), the tilt measured there, degrees; those of stands whose fixes state one. */
  readonly tilts: ReadonlyMap<string, number>;
  /** Largest tilt accepted; null: no limit. */
  readonly largestLeanDeg: number | null;
  readonly otherZones: readonly OtherZone[];
  readonly controlRules: readonly LimitRule[];
  readonly repeatRules: readonly LimitRule[];
  readonly designRules: readonly LimitRule[];
  /** The day whose noise the covariances are to hold; null: as they are stated. */
  readonly day: DayVariance | null;
}

/** A point with every form of its place that can be had. Lengths in metres. */
export interface PlacedPoint {
  readonly row: PointRow;
  readonly firstM: number | null;
  readonly secondM: number | null;
  readonly latitudeDeg: number | null;
  readonly longitudeDeg: number | null;
  readonly ellipsoidalHeightM: number | null;
  readonly orthometricHeightM: number | null;
  readonly geoidHeightM: number | null;
  readonly convergenceDeg: number;
  readonly pointScaleFactor: number;
  readonly combinedFactor: number | null;
}

/** Where a measured point stands to its base. */
export interface BaseVector {
  readonly distanceM: number | null;
  /** True azimuth of the line from the base, at the point. */
  readonly azimuthDeg: number | null;
  readonly heightDifferenceM: number | null;
}

export type CheckKind = 'control' | 'repeat' | 'base-pair' | 'design' | 'line';
/** `review`: nothing says no, and something asks to be looked at. Outputs say `no` for the last two; see check-answer.ts. */
export type CheckVerdict = 'within' | 'review' | 'exceeds' | 'not-stated';

/** One comparison and what became of it. */
export interface CheckRow {
  readonly check: CheckKind;
  readonly pointId: string;
  readonly occupation: string;
  /** What it was compared with: the control, the other occupation, the line's segment. */
  readonly against: string;
  /** Measured minus known (or later minus earlier) along the system's own axes, metres. */
  readonly firstM: number | null;
  readonly secondM: number | null;
  readonly upM: number | null;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** Along and to the right of the direction from the base, or of the line. */
  readonly alongM: number | null;
  readonly acrossM: number | null;
  readonly distanceM: number | null;
  /** Chainage along a line. */
  readonly chainageM: number | null;
  readonly separationS: number | null;
  /** ΔᵀC⁻¹Δ of the two horizontal components, and |Δup|/σ; null without a covariance. */
  readonly horizontalStatistic: number | null;
  readonly verticalStatistic: number | null;
  /** Every limit applied. */
  readonly limits: readonly LimitVerdict[];
  readonly verdict: CheckVerdict;
  readonly reasons: readonly ProblemCode[];
  readonly measured: PlacedPoint | null;
  readonly known: PlacedPoint | null;
  readonly covariance: LocalCovariance | null;
  readonly vector: BaseVector | null;
}

/** The limit of a row's axis with the least margin; null where none was applied. */
export function tightest(row: Pick<CheckRow, 'limits'>, axis: 'horizontal' | 'up'): LimitVerdict | null {
  let worst: LimitVerdict | null = null;
  for (const limit of row.limits) {
    if ((limit.axis === 'up') !== (axis === 'up')) continue;
    if (worst === null || (limit.marginM ?? Infinity) < (worst.marginM ?? Infinity)) worst = limit;
  }
  return worst;
}

/** A term of a limit, in words. */
export const TERM_WORDS: Readonly<Record<LimitTerm, string>> = {
  constant: 'constant term',
  proportion: 'term in proportion to distance',
  'root-distance': 'term with the root of distance',
  floor: 'floor',
  cap: 'cap',
};
