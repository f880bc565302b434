import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeodeticPoint, LocalCovariance } from '../../records/points/point.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { entryAt, present } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { BaseSettings, InheritedMark } from '../../records/session.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { combinePoints } from '../repeats/combine-points.js';
import { ANTENNA_HEIGHT_SIGMA_M, CENTRING_SIGMA_M } from '../repeats/set-up-identity.js';
import type { HeldDay } from './finish-days.js';

/** A base by reference, before the day that gives it is reduced. */
type ReferredBase = BaseSettings & { readonly knownFrom: NonNullable<BaseSettings['knownFrom']> };

/** Whether the coordinate of a base is still to be taken from an earlier day. */
export function isReferred(base: BaseSettings): base is ReferredBase {
  return base.knownFrom !== undefined && base.known === null;
}

/**
 * A base whose coordinate is what an earlier day says of a point: its occupations of that day joined, with their covariance.
 *
 * Given: the base; the day as it was reduced. Returned: the base with its known coordinate at the mark, as a file of points has it, and its sigmas: the larger
 * axis of the point's horizontal ellipse and its height, each with the centring and the antenna height of the new set-up.
 * `inherited` says how much of them is the error of the mark that the point was measured from, where all its occupations were
 * measured from one; it goes whole into every point measured from the new base.
 * Problems: value-unknown-id where the day has no such point with a coordinate; base-known-disputed where its occupations disagree.
 */
export function knownFromDay(base: ReferredBase, { id, setup, held }: HeldDay): Outcome<BaseSettings> {
  const { point } = base.knownFrom;
  const usable: ReducedPoint[] = [];
  let isNamed = false;
  for (const own of held) {
    if (own.pointId !== point) continue;
    isNamed = true;
    if (own.position !== null) usable.push(own);
  }
  if (usable.length === 0) return failure(unknown(base, isNamed ? 'no occupation of' : 'no point', id));
  const { points, repeats } = combinePoints(usable, setup);
  if (repeats.some(({ test }) => test.disagrees))
    return failure(
      errorProblem('base-known-disputed', {
        message: `base ${base.id}: the ${String(usable.length)} occupations of ${point} on ${id} disagree`,
        hint: 'find out which is wrong and leave it out with [[exclude]]: every point of the base would move with it',
      }),
    );
  const joined = entryAt(points, 0);
  const { geodetic } = present(joined.position, 'the position of a joined point');
  const { total } = present(joined.uncertainty, 'the uncertainty of a joined point');
  return success({
    ...base,
    known: { kind: 'geodetic', at: 'mark', ...asWritten(geodetic), ...(setup.shift !== null && { frame: 'national' }) },
    sigmaHorizontalM: Math.hypot(largestAxisM(total), base.centringSigmaM ?? CENTRING_SIGMA_M),
    sigmaVerticalM: Math.hypot(Math.sqrt(total.uuM2), base.antennaHeightSigmaM ?? ANTENNA_HEIGHT_SIGMA_M),
    inherited: inheritedOf(usable, setup),
  });
}

function unknown({ id, knownFrom }: ReferredBase, what: string, day: string): Problem {
  return errorProblem('value-unknown-id', {
    message: `base ${id}: day ${day} has ${what} ${knownFrom.point} that could be its coordinate`,
    received: knownFrom.point,
    hint: 'name the point as it stands in the output; a rejected one has no coordinate',
  });
}

/** The marks in the coordinate of a point: of its base, and those that one was measured from; none where it had several. */
function inheritedOf(points: readonly ReducedPoint[], setup: ReductionSetup): readonly InheritedMark[] {
  const bases = points.map(({ setupKey }) => setup.bases.find(({ identity }) => identity.setupKey === setupKey));
  const [first] = bases;
  if (first === undefined || bases.some((base) => base?.identity.markKey !== first.identity.markKey)) return [];
  // Absent: no mark is inherited.
  return [...(first.settings.inherited ?? []), ownMark(first, setup)];
}

function ownMark({ origin, identity }: PreparedBase, setup: ReductionSetup): InheritedMark {
  return { place: geodeticToGeocentric(origin.geodetic, setup.ellipsoid), ...identity.mark };
}

/** The place as a file of points has it, so that the record says what was used. */
function asWritten({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }: GeodeticPoint): GeodeticPoint {
  const rounded = (value: number, scale: number): number => Math.round(value * scale) / scale;
  return {
    latitudeDeg: rounded(latitudeDeg, 1e9),
    longitudeDeg: rounded(longitudeDeg, 1e9),
    ellipsoidalHeightM: rounded(ellipsoidalHeightM, 1e4),
  };
}

/** Semi-major axis of the horizontal standard ellipse, metres. */
function largestAxisM({ eeM2, enM2, nnM2 }: LocalCovariance): number {
  const half = (eeM2 - nnM2) / 2;
  return Math.sqrt((eeM2 + nnM2) / 2 + Math.hypot(half, enM2));
}
