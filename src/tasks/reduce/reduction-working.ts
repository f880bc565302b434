import type { ExpectedScatter } from '../../core/observation/averaging/expected-scatter.js';
import type { RobustAverage } from '../../core/observation/averaging/robust-average.js';
import type { PoleGeometry, PoleReduction } from '../../core/observation/pole-reduction.js';
import type { UncertaintyComponents } from '../../core/observation/uncertainty/uncertainty-components.js';
import type { PredictedPrecision } from '../../core/planning/precision-model.js';
import type { GeocentricPoint, GeodeticPoint, ReferencePoint } from '../../records/points/point.js';
import type { RecordList } from '../../records/record-list.js';
import type { EpochResult, ReducedPoint, ReducedPosition } from '../../records/points/reduced-point.js';
import type { OccupationTests } from './occupations/occupation-tests.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import type { NationalPoint } from './reduction-shift.js';

/** One epoch carried to the pole tip: every number of the way, for the worked explanation. */
export interface ReducedEpoch {
  readonly geodetic: GeodeticPoint;
  readonly top: GeocentricPoint;
  readonly place: ReferencePoint;
  readonly pole: PoleGeometry | null;
  readonly reduction: PoleReduction | null;
  /** After base correction. */
  readonly tip: GeocentricPoint;
}

/** What lay between the fixes of one occupation and its point. Nothing here is computed twice. */
export interface ReductionWorking {
  readonly base: PreparedBase | null;
  readonly epochs: RecordList<EpochResult>;
  /** Same order as `epochs`. */
  readonly reduced: RecordList<ReducedEpoch>;
  /** Indices of the epochs that no limit refuses, which were screened and averaged. */
  readonly accepted: readonly number[];
  /** Index of the epoch the explanation follows: the first accepted one. */
  readonly example: number;
  readonly average: RobustAverage | null;
  /** What the averaged epochs were expected to scatter. */
  readonly expected: ExpectedScatter | null;
  readonly tests: OccupationTests | null;
  /** In the frame of the fixes. */
  readonly mean: GeocentricPoint | null;
  /** The mean in the frame of the grid; null where that is the same frame, or there is no mean. */
  readonly national: NationalPoint | null;
  readonly gaussRadiusM: number | null;
  /** Kept here even where the point is rejected and its coordinate withheld. */
  readonly position: ReducedPosition | null;
  readonly prediction: PredictedPrecision | null;
  readonly uncertainty: UncertaintyComponents | null;
  readonly shortcutErrorM: number | null;
}

/** A reduced occupation with its working. */
export interface ReducedOccupation {
  readonly point: ReducedPoint;
  readonly working: ReductionWorking;
}
