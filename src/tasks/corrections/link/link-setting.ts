import type { Fix } from '../../../records/points/fix.js';
import type { Session } from '../../../records/session.js';
import { chooseBase } from '../../bases/choose-base.js';
import type { ReductionSetup } from '../../reduce/reduction-setup.js';
import type { LinkSetting } from './link-count.js';

/** Older is refused where the session says nothing: common practice, no published source. */
export const USUAL_AGE_LIMIT_S = 10;

/** What a session says of its epochs. */
export interface EpochLimits extends Pick<Session, 'acceptance' | 'tolerance'> {
  /** Growth of the error, metres a second, one sigma an axis. */
  readonly ageRateMPerS: number;
}

/** What the link is looked at with. Given: the setup that counts for the fixes at hand; null where none is known, and no baseline either. */
export function linkSetting(
  { acceptance, tolerance, ageRateMPerS }: EpochLimits,
  setupInForce: () => ReductionSetup | null,
): LinkSetting {
  return {
    limitS: acceptance.maxCorrectionAgeS ?? USUAL_AGE_LIMIT_S,
    isLimitAssumed: acceptance.maxCorrectionAgeS === null,
    ageRateMPerS,
    minEpochs: acceptance.minEpochs ?? 1,
    solution: acceptance.solution,
    sigmaOf(fix) {
      const setup = setupInForce();
      return setup === null ? null : sigmaOf(fix, setup);
    },
    toleranceHorizontalM: tolerance.horizontalM,
    toleranceVerticalM: tolerance.verticalM,
  };
}

/** What the planning model gives an epoch at the baseline of the fix; null where its base is not known. */
function sigmaOf(fix: Fix, setup: ReductionSetup): ReturnType<LinkSetting['sigmaOf']> {
  const base = chooseBase(fix, setup.bases);
  if (base === null || 'code' in base) return null;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = base.origin.geodetic;
  const { geodetic } = fix;
  const distanceM = setup.geodesic.distanceM(latitudeDeg, longitudeDeg, geodetic.latitudeDeg, geodetic.longitudeDeg);
  const { horizontal, vertical } = setup.precision.at(distanceM, geodetic.ellipsoidalHeightM - ellipsoidalHeightM);
  return { horizontalM: horizontal.totalM, verticalM: vertical.totalM };
}
