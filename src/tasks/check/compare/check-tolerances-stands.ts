import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import type { CorrelationTimes, OccupationEstimate } from '../../../core/observation/repeats/occupation-estimate.js';
import { jointTest } from '../../../core/quality/joint-test.js';
import type { JointTest } from '../../../core/quality/joint-test.js';
import { splitCovariance } from '../../../core/quality/split-covariance.js';
import { standContrasts } from '../../../core/quality/day/stand-contrasts.js';
import type { BaselineContrast, OwnPart } from '../../../core/quality/day/stand-contrasts.js';
import type { LocalVector } from '../../../records/points/point.js';
import { measuredCovariance } from './check-tolerances-difference.js';
import { baseVector } from './check-tolerances-place.js';
import type { CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { baseNamed } from '../../bases/choose-base.js';

/** The occupations of a point from a file of points, tested. */
export interface JudgedRepeats {
  readonly estimates: readonly OccupationEstimate[];
  readonly times: CorrelationTimes;
  readonly distanceM: number;
  readonly test: JointTest;
  /** They disagree if the base's share is as large as can be, and agree if there is none. */
  readonly isUndecided: boolean;
  readonly hasUnknownSetup: boolean;
  /** Of each occupation: whether its uncertainty is known. One whose is not takes no part in the test. */
  readonly isSure: readonly boolean[];
  /** What they say of the precision of the day; nothing where a set-up is not known. */
  readonly contrasts: readonly BaselineContrast[];
}

/** How much of an occupation whose set-up is not known is the base's: all that the planning model does not claim, or nothing. */
type BaseShare = 'most' | 'none';

/**
 * Tests the occupations of a point. A set-up is that of the session with the row's base id which ran at its first epoch. Where it
 * is not known, rows of one base id are taken for one set-up whose share in their sigmas is not known: they disagree only where
 * they do with no share at all, they agree only where they do with the largest, and between the two nothing is decided.
 *
 * An occupation that states no sigma, and whose distance from a base is not known either, has no uncertainty: nothing is tested of it.
 *
 * Given: occupations of one point; level of the test. Returned: see `JudgedRepeats`; estimates and χ² are those of the largest share.
 */
export function judgeRepeats(group: readonly PlacedPoint[], level: number, setup: CheckSetup): JudgedRepeats {
  const origin = group[0] as PlacedPoint;
  const hasUnknownSetup = group.some((point) => baseOf(point, setup) === undefined);
  const estimates = group.map((point, place) => standEstimate(point, origin, setup, 'most', place));
  // A baseline that is not known is no longer than any.
  const distanceM = estimates.reduce((most, { baselineM }) => Math.max(most, baselineM ?? 0), 0);
  const times = setup.precision.at(distanceM, null);
  const isSure = group.map((point) => measuredCovariance(point, baseVector(point, setup), setup).covariance !== null);
  const axes = group.map((point, place) => ({
    plan: isSure[place] === true && hasPlan(point),
    up: isSure[place] === true && (point.orthometricHeightM !== null || point.ellipsoidalHeightM !== null),
  }));
  const test = jointTest(estimates, times, level, axes);
  const least =
    test.disagrees && hasUnknownSetup
      ? jointTest(
          group.map((point, place) => standEstimate(point, origin, setup, 'none', place)),
          times,
          level,
          axes,
        )
      : test;
  return {
    estimates,
    times,
    distanceM,
    test,
    isUndecided: test.disagrees && !least.disagrees,
    hasUnknownSetup,
    isSure,
    contrasts:
      hasUnknownSetup || axes.some(({ plan, up }) => !plan || !up)
        ? []
        : standContrasts(
            estimates,
            group.map((point, place) =>
              ownPart(estimates[place] as OccupationEstimate, baseVector(point, setup).azimuthDeg),
            ),
            times,
          ),
  };
}

/** A file of points states sums only: what base and planning model leave of them may be the pole's, and none of it is the day's. */
function ownPart({ independent: { eeM2, nnM2, uuM2 } }: OccupationEstimate, azimuthDeg: number | null): OwnPart {
  return {
    planM2: (eeM2 + nnM2) / 2,
    upM2: uuM2,
    azimuthRad: azimuthDeg === null ? null : azimuthDeg * RADIANS_PER_DEGREE,
  };
}

function hasPlan({ firstM, secondM, latitudeDeg }: PlacedPoint): boolean {
  return (firstM !== null && secondM !== null) || latitudeDeg !== null;
}

/** The set-up of the session that a point was measured from. */
export function baseOf({ row }: PlacedPoint, setup: CheckSetup): CheckSetup['bases'][number] | undefined {
  return baseNamed(row, setup.bases);
}

/** An occupation of a file of points as the comparison of repeats takes it, about an origin. */
export function standEstimate(
  point: PlacedPoint,
  origin: PlacedPoint,
  setup: CheckSetup,
  share: BaseShare,
  place: number,
): OccupationEstimate {
  const vector = baseVector(point, setup);
  const { covariance } = measuredCovariance({ row: point.row, convergenceDeg: 0 }, vector, setup);
  const base = baseOf(point, setup);
  const { baseId, firstEpochMs, lastEpochMs } = point.row;
  const durationS = firstEpochMs === null || lastEpochMs === null ? 0 : (lastEpochMs - firstEpochMs) / 1000;
  const parts = splitCovariance(
    covariance,
    vector,
    setup.precision,
    base?.identity ?? (share === 'most' ? 'what-is-left' : NOTHING),
    durationS,
  );
  // Of an unnamed base as of a named one: the place alone tells it from the others.
  const unknown = share === 'most' ? baseId : `${baseId ?? ''} ${String(place)}`;
  const keys =
    base === undefined
      ? { markKey: unknown, setupKey: unknown }
      : { markKey: base.identity.markKey, setupKey: base.identity.setupKey };
  return {
    position: positionAbout(point, origin, setup),
    ...parts,
    ...keys,
    baselineM: vector.distanceM,
    startMs: firstEpochMs,
    endMs: lastEpochMs,
  };
}

const NOTHING = { mark: { horizontalM: 0, verticalM: 0 }, setup: { horizontalM: 0, verticalM: 0 } };

function positionAbout(point: PlacedPoint, origin: PlacedPoint, setup: CheckSetup): LocalVector {
  const upM = upBetween(point, origin);
  if (
    point.latitudeDeg === null ||
    point.longitudeDeg === null ||
    origin.latitudeDeg === null ||
    origin.longitudeDeg === null
  ) {
    return {
      // Where a pair is not known its plan is left out of the test (`hasPlan`).
      eastM: setup.axes.signs[0] * ((point.firstM ?? 0) - (origin.firstM ?? 0)),
      // Where a pair is not known its plan is left out of the test (`hasPlan`).
      northM: setup.axes.signs[1] * ((point.secondM ?? 0) - (origin.secondM ?? 0)),
      upM,
    };
  }
  // Both places lie at one height, whichever: plan does not feel it.
  const h = origin.ellipsoidalHeightM ?? 0;
  const a = geodeticToGeocentric(
    { latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: h },
    setup.ellipsoid,
  );
  const b = geodeticToGeocentric(
    { latitudeDeg: origin.latitudeDeg, longitudeDeg: origin.longitudeDeg, ellipsoidalHeightM: h },
    setup.ellipsoid,
  );
  const local = geocentricToLocal(localFrameAt(origin.latitudeDeg, origin.longitudeDeg), {
    xM: a.xM - b.xM,
    yM: a.yM - b.yM,
    zM: a.zM - b.zM,
  });
  return { eastM: local.eastM, northM: local.northM, upM };
}

function upBetween(point: PlacedPoint, origin: PlacedPoint): number {
  if (point.orthometricHeightM !== null && origin.orthometricHeightM !== null)
    return point.orthometricHeightM - origin.orthometricHeightM;
  return point.ellipsoidalHeightM === null || origin.ellipsoidalHeightM === null
    ? 0
    : point.ellipsoidalHeightM - origin.ellipsoidalHeightM;
}
