import type { PredictedAxis, PredictedPrecision } from '../../planning/precision-model.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { CORRELATION_ALLOWANCE, SCATTER_ALLOWANCE } from '../../quality/decision-levels.js';
import type { MostScatter } from '../stand-tests/antenna-moving.js';

/** What the epochs of one axis are expected to scatter while the antenna stands, one sigma, metres. */
export interface AxisScatter {
  /** What may change from epoch to epoch in the time the occupation lasts. */
  readonly withinM: number;
  /** The most that is allowed to clean epochs: the levels of the tests of an occupation hold up to it. */
  readonly mostM: number;
}

export interface ExpectedScatter {
  /** Per horizontal axis. */
  readonly horizontal: AxisScatter;
  readonly vertical: AxisScatter;
}

/** What the scatter of an occupation is expected from. */
export interface ScatterInput {
  readonly prediction: PredictedPrecision;
  /** From the first epoch to the last. */
  readonly spanS: number;
  /** `poleCovariance`; null: there is no pole between antenna and point. */
  readonly pole: LocalCovariance | null;
  /** Sigmas the epochs report, a typical one (their median), metres; null: not reported. */
  readonly reportedHorizontalM: number | null;
  readonly reportedVerticalM: number | null;
}

/** No scatter is expected to be smaller, metres: receivers write positions to a tenth of it. */
const LEAST_M = 0.001;

function axisScatter(
  axis: PredictedAxis,
  correlationS: number,
  spanS: number,
  poleM2: number,
  reportedM: number | null,
): AxisScatter {
  const constantM2 = axis.constantM * axis.constantM;
  const growingM2 = Math.max(0, axis.totalM * axis.totalM - constantM2);
  // Of a slow error the epochs show what it changes between the middle of the occupation and its ends.
  const changed =
    correlationS > 0 ? Math.min(1, -2 * Math.expm1((-CORRELATION_ALLOWANCE * spanS) / (2 * correlationS))) : 1;
  // A receiver that reports nothing, or a tip without a pole, adds nothing to the scatter expected.
  const withinM = Math.max(LEAST_M, reportedM ?? 0, Math.sqrt(constantM2 + changed * growingM2 + poleM2));
  // Nothing says how quickly a receiver's error changes that states no sigmas: all of it may, up to the model's.
  const unstatedM = reportedM === null ? Math.sqrt(axis.totalM * axis.totalM + poleM2) : 0;
  return { withinM, mostM: Math.max(SCATTER_ALLOWANCE * withinM, unstatedM) };
}

/**
 * What the epochs of one occupation are expected to scatter while the antenna stands.
 *
 * Within an occupation of length T: √(a² + g²·min(1, 2(1 − exp(−T/2τ′))) + p²) with a the constant term of the
 * planning model, which may be wholly fast, g what grows with the baseline, which is slow, τ′ a third of the model's
 * correlation time and p the sigma of the pole, whose lean changes as it is held; not less than the sigmas the epochs
 * report, nor than 1 mm. At most: `SCATTER_ALLOWANCE` times that, and where no sigmas are reported not less than
 * √(a² + g² + p²), as if all of the error changed from epoch to epoch.
 *
 * Given: see `ScatterInput`. Returned: one sigma per axis, metres.
 *
 * Reference: 2(1 − exp(−D/τ)) is the variance of the difference of two epochs D apart in a first-order Gauss–Markov
 * process of variance 1; the assumptions are those of docs/methods/averaging.md.
 */
export function expectedScatter(input: ScatterInput): ExpectedScatter {
  const { prediction, spanS, pole } = input;
  const poleHorizontalM2 = pole === null ? 0 : Math.max(pole.eeM2, pole.nnM2);
  return {
    horizontal: axisScatter(
      prediction.horizontal,
      prediction.correlationHorizontalS,
      spanS,
      poleHorizontalM2,
      input.reportedHorizontalM,
    ),
    vertical: axisScatter(
      prediction.vertical,
      prediction.correlationVerticalS,
      spanS,
      // A receiver that reports nothing, or a tip without a pole, adds nothing to the scatter expected.
      pole?.uuM2 ?? 0,
      input.reportedVerticalM,
    ),
  };
}

/** The most that epochs of a standing antenna scatter, for `antennaMoving`. */
export function mostScatter({ horizontal, vertical }: ExpectedScatter): MostScatter {
  return { horizontalM: horizontal.mostM, verticalM: vertical.mostM };
}
