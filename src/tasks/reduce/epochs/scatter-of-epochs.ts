import { geocentricToLocal } from '../../../core/ellipsoid/local-frame.js';
import { reportedHorizontalSigmaM } from '../../../core/observation/stand-tests/acceptance.js';
import { expectedScatter } from '../../../core/observation/averaging/expected-scatter.js';
import type { ExpectedScatter } from '../../../core/observation/averaging/expected-scatter.js';
import { poleCovariance } from '../../../core/observation/uncertainty/pole-covariance.js';
import type { PoleGeometry } from '../../../core/observation/pole-reduction.js';
import { typicalSigmaM } from '../../../core/observation/uncertainty/typical-sigma.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { RecordList } from '../../../records/record-list.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduction-setup.js';

/** The accepted epochs of an occupation, before they are averaged. */
export interface EpochsToScatter {
  readonly fixes: RecordList<Fix>;
  /** Near them, in the frame of the fixes. */
  readonly middle: GeocentricPoint;
  readonly spanS: number;
  readonly base: PreparedBase | null;
  readonly pole: PoleGeometry | null;
}

/**
 * What epochs are expected to scatter, by the planning model at their baseline, the pole and the sigmas they report. The
 * baseline is the chord, and the height difference that above the plane through the base raised by d²/2R: both good to
 * metres, which is plenty for a sigma.
 */
export function scatterOfEpochs(
  { fixes, middle, spanS, base, pole }: EpochsToScatter,
  setup: ReductionSetup,
): ExpectedScatter {
  return expectedScatter({
    prediction: predictionAt(middle, base, setup),
    spanS,
    pole: pole === null ? null : poleCovariance(pole, setup.rover),
    reportedHorizontalM: typicalSigmaM(fixes, reportedHorizontalSigmaM),
    reportedVerticalM: typicalSigmaM(fixes, (fix) => fix.sigmaUpM),
  });
}

const EARTH_RADIUS_M = 6_371_000;

function predictionAt(
  place: GeocentricPoint,
  base: PreparedBase | null,
  setup: ReductionSetup,
): ReturnType<ReductionSetup['precision']['at']> {
  if (base === null) return setup.precision.at(0, null);
  const { eastM, northM, upM } = geocentricToLocal(base.frame, {
    xM: place.xM - base.arp.xM,
    yM: place.yM - base.arp.yM,
    zM: place.zM - base.arp.zM,
  });
  const distanceM = Math.sqrt(eastM * eastM + northM * northM);
  return setup.precision.at(distanceM, upM + (distanceM * distanceM) / (2 * EARTH_RADIUS_M));
}
