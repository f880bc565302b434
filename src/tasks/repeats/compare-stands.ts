import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../core/ellipsoid/local-frame.js';
import type { LocalFrame } from '../../core/ellipsoid/local-frame.js';
import { baseCovariance } from '../../core/observation/uncertainty/base-covariance.js';
import { lessCovariance, sumCovariance, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import type { CorrelationTimes, OccupationEstimate } from '../../core/observation/repeats/occupation-estimate.js';
import type { BaseSigmas } from './set-up-identity.js';
import { requiredSeparationS } from '../../core/observation/repeats/repeat-test.js';
import { jointSquares } from '../../core/observation/repeats/combine-occupations.js';
import type { CombinedOccupations } from '../../core/observation/repeats/combine-occupations.js';
import { BOTH_AXES, judgedSquares } from '../../core/quality/joint-test.js';
import type { JointTest } from '../../core/quality/joint-test.js';
import { standContrasts } from '../../core/quality/day/stand-contrasts.js';
import type { BaselineContrast, OwnPart } from '../../core/quality/day/stand-contrasts.js';
import { InternalError } from '../../records/internal-error.js';
import type { GeocentricPoint, GeodeticPoint, LocalCovariance } from '../../records/points/point.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { standsAtOnce } from './stands-at-once.js';
import type { StandsAtOnce } from './stands-at-once.js';

/** What the comparison of an occupation with others of its point needs of it. */
export interface Stand {
  readonly geodetic: GeodeticPoint;
  /** Noise and pole, m². */
  readonly independent: LocalCovariance;
  /** The pole's part of it. */
  readonly pole: Omit<OwnPart, 'azimuthRad'>;
  /** Slow errors, m²: those that do not grow with the baseline, and those that do. */
  readonly correlated: LocalCovariance;
  readonly baseline: LocalCovariance;
  /** What belongs to the base, m²; null: the stated sigmas of the set-up. */
  readonly base: LocalCovariance | null;
  /** Bend of its vector by a wrong coordinate of the set-up, m². */
  readonly bend: LocalCovariance;
  readonly setupKey: string | null;
  readonly baselineM: number | null;
  readonly startMs: number | null;
  readonly endMs: number | null;
  readonly poleLengthM: number | null;
}

/** The occupations of one point, compared. */
export interface ComparedStands {
  readonly estimates: readonly OccupationEstimate[];
  /** What the estimates are about. */
  readonly origin: GeocentricPoint;
  readonly times: CorrelationTimes;
  readonly test: JointTest;
  /** Them as one, as `combineOccupations` joins them. */
  readonly joined: () => CombinedOccupations;
  /** What they say of the precision of the day, worked out when it is asked for. */
  readonly contrasts: () => readonly BaselineContrast[];
  /** The longest of their baselines, metres; 0 where none is known. */
  readonly longestM: number;
  /** Two of them are nearer in time than occupations that count as independent. */
  readonly isTooSoon: boolean;
  /** Two of them that cannot both be; null: there are none. */
  readonly atOnce: StandsAtOnce | null;
  /** Two of them state different lengths of the pole. */
  readonly polesDiffer: boolean;
}

/**
 * Compares the occupations of one point by one test of all.
 *
 * Given: at least one stand; the setup they were reduced with; the level of the test. Returned: see `ComparedStands`.
 */
export function compareStands(stands: readonly Stand[], setup: ReductionSetup, level: number): ComparedStands {
  const [first] = stands;
  if (first === undefined) throw new InternalError('no stands to compare');
  const origin = geodeticToGeocentric(first.geodetic, setup.ellipsoid);
  const frame = localFrameAt(first.geodetic.latitudeDeg, first.geodetic.longitudeDeg);
  const basePartsOf = createBaseParts(frame, setup);
  const estimates = stands.map((stand): OccupationEstimate => {
    const at = geodeticToGeocentric(stand.geodetic, setup.ellipsoid);
    const { independent, correlated, baseline, baselineM, startMs, endMs } = stand;
    return {
      position: geocentricToLocal(frame, { xM: at.xM - origin.xM, yM: at.yM - origin.yM, zM: at.zM - origin.zM }),
      independent,
      correlated,
      baseline,
      ...basePartsOf(stand),
      baselineM,
      startMs,
      endMs,
    };
  });
  // Correlation times at the longest baseline: the safe side for shared slow errors.
  const longestM = stands.reduce((most, { baselineM }) => Math.max(most, baselineM ?? 0), 0);
  const times = setup.precision.at(longestM, null);
  const poles = new Set(stands.flatMap(({ poleLengthM }) => poleLengthM ?? []));
  const squares = jointSquares(estimates, times);
  return {
    estimates,
    origin,
    times,
    test: judgedSquares(
      squares,
      estimates.map(() => BOTH_AXES),
      level,
    ),
    joined: squares.joined,
    contrasts: () =>
      standContrasts(
        estimates,
        stands.map((stand) => ({ ...stand.pole, azimuthRad: azimuthOf(stand, setup) })),
        times,
      ),
    longestM,
    isTooSoon: anyTooSoon(stands),
    atOnce: standsAtOnce(estimates),
    polesDiffer: poles.size > 1,
  };
}

/** Of the line from the base of its set-up; null where that is not described. */
function azimuthOf({ geodetic, setupKey }: Stand, setup: ReductionSetup): number | null {
  const base = setup.bases.find(({ identity }) => identity.setupKey === setupKey);
  if (base === undefined) return null;
  const [from, to] = [
    geodeticToGeocentric(base.origin.geodetic, setup.ellipsoid),
    geodeticToGeocentric(geodetic, setup.ellipsoid),
  ];
  const { eastM, northM } = geocentricToLocal(base.frame, {
    xM: to.xM - from.xM,
    yM: to.yM - from.yM,
    zM: to.zM - from.zM,
  });
  return Math.atan2(eastM, northM);
}

/** What of an occupation's estimate is its base's. */
type BaseParts = Pick<OccupationEstimate, 'mark' | 'setup' | 'markKey' | 'setupKey' | 'inherited'>;

/** The base's error, taken apart into that of its mark, those of marks that it was measured from, and that of its set-up, which bent its vectors too. */
function createBaseParts(frame: LocalFrame, setup: ReductionSetup): (stand: Stand) => BaseParts {
  let held: HeldBase | null = null;
  return ({ base: whole, bend, setupKey }) => {
    const base = setup.bases.find(({ identity }) => identity.setupKey === setupKey);
    if (base === undefined) return { mark: whole ?? ZERO_COVARIANCE, setup: bend, markKey: setupKey, setupKey };
    // Most stands of a point have one base.
    if (held?.base !== base) held = heldBase(base, frame);
    const { own, mark, ofMarks, inherited } = held;
    return {
      mark,
      setup: sumCovariance(whole === null ? own : lessCovariance(whole, ofMarks), bend),
      markKey: base.identity.markKey,
      setupKey,
      ...(inherited !== undefined && { inherited }),
    };
  };
}

/** The errors of a base in the frame of a point. */
interface HeldBase {
  readonly base: PreparedBase;
  readonly own: LocalCovariance;
  readonly mark: LocalCovariance;
  /** With those of marks that it was measured from. */
  readonly ofMarks: LocalCovariance;
  readonly inherited: OccupationEstimate['inherited'];
}

function heldBase(base: PreparedBase, frame: LocalFrame): HeldBase {
  const covarianceOf = ({ horizontalM, verticalM }: BaseSigmas): LocalCovariance =>
    baseCovariance(horizontalM, verticalM, base.frame, frame);
  const { mark, setup: own } = base.identity;
  const inherited = base.identity.inherited?.map((from) => ({
    markKey: from.markKey,
    covariance: covarianceOf(from),
  }));
  const markCovariance = covarianceOf(mark);
  return {
    base,
    own: covarianceOf(own),
    mark: markCovariance,
    // Absent: no mark is inherited.
    ofMarks: (inherited ?? []).reduce((sum, { covariance }) => sumCovariance(sum, covariance), markCovariance),
    inherited,
  };
}

/** Each against the one before it in time; those without times say nothing. */
function anyTooSoon(stands: readonly Stand[]): boolean {
  const timed = stands
    .flatMap(({ startMs, endMs, baselineM }) =>
      startMs === null || endMs === null ? [] : [{ startMs, endMs, baselineM }],
    )
    .sort((a, b) => a.startMs - b.startMs);
  let before: (typeof timed)[number] | null = null;
  for (const stand of timed) {
    const longer =
      before === null || stand.baselineM === null || before.baselineM === null
        ? null
        : Math.max(stand.baselineM, before.baselineM);
    if (before !== null && stand.startMs - before.endMs < 1000 * requiredSeparationS(longer)) return true;
    if (before === null || stand.endMs > before.endMs) before = stand;
  }
  return false;
}
