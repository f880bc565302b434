import { geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import type { SharedError, SharedTerm } from '../../../core/network/network.js';
import { FIXED_SIGMA_M } from '../../../core/network/network.js';
import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import { poleCovariance } from '../../../core/observation/uncertainty/pole-covariance.js';
import { splitCovariance } from '../../../core/quality/split-covariance.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint, LocalCovariance } from '../../../records/points/point.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { entryAt, present } from '../../../records/present.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { baseNamed } from '../../bases/choose-base.js';
import { dayOfOccupation } from '../../job/occupation-name.js';
import { prepareStation } from '../../bases/prepare-station.js';
import type { StationSetup } from '../../bases/prepare-station.js';
import type { ReductionSetup } from '../../reduce/reduction-setup.js';
import { setupCovariance } from './network-input.js';
import { networkBases } from './session-bases.js';
import type { NetworkBase } from './session-bases.js';
import type { OccupationVector } from './slow-errors.js';

/** A session that points were reduced with. */
export interface OccupationSession {
  readonly setup: ReductionSetup & StationSetup;
  /** What tells its set-ups and poles from those of the other sessions; empty where there is one. */
  readonly day: string;
}

/** Makes vectors of occupations, and keeps what of their bases and poles they share. */
export interface PointVectors {
  /** The vector from the base to the point of one occupation of a session, by its place; null where it was rejected. */
  readonly of: (row: PointRow, session: number) => Outcome<OccupationVector | null>;
  /** Errors of the set-ups and poles that the vectors made so far share, in the order of their names. */
  readonly shared: () => readonly SharedError[];
  readonly bases: readonly NetworkBase[];
}

/** Whether a point was joined of several occupations, whose names stand one after the other. */
function isJoined({ occupation }: PointRow): boolean {
  return occupation.includes('+');
}

/** Part of what is an occupation's alone that a pole takes at most: the rest is left to it. An assumption. */
const MOST_OF_POLE = 0.9;

/**
 * Vectors from the occupations of points files.
 *
 * A point was reduced from its base, so that its position less the base's is what was measured. Its stated covariance holds the
 * error of the mark, of the set-up and of the pole too: they are taken out of it, since vectors from one base, and points of one
 * pole and day, share them.
 *
 * Given: the sessions, resolved, with their grid. Problems of a row: base-unknown where the session does not describe its base;
 * value-missing without sigmas or an ellipsoidal height; those of its position.
 */
export function pointVectors(sessions: readonly OccupationSession[]): PointVectors {
  const bases = networkBases(sessions);
  const names = new Map<string, SharedError>();
  const share = (error: SharedError): string => {
    if (!names.has(error.name)) names.set(error.name, error);
    return error.name;
  };
  return {
    bases,
    shared: () => [...names.values()].sort((a, b) => (a.name < b.name ? -1 : 1)),
    of(row, session) {
      if (row.verdict === 'rejected') return success(null);
      const sessionOf = entryAt(sessions, session);
      const { setup } = sessionOf;
      const station = prepareStation(row, setup);
      if (!station.ok) return station;
      const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = station.value;
      const total = totalOf(row);
      if (ellipsoidalHeightM === null || total === null)
        return failure(
          errorProblem('value-missing', {
            message: `${row.pointId} has no ${total === null ? 'sigmas' : 'ellipsoidal height'}`,
            hint: 'use the points file that reduce-points writes',
          }),
        );
      const base = baseNamed(row, setup.bases);
      if (base === undefined)
        return failure(
          errorProblem('base-unknown', {
            message: `no one base of the session is ${row.baseId ?? 'named'} at the time of ${row.pointId}`,
            hint: isJoined(row)
              ? 'this is joined of several occupations, which is no vector: give the points that reduce-points writes without --combine'
              : 'give the session that the points were reduced with',
          }),
        );
      const own = present(
        bases.find((other) => other.base === base),
        'a base of a session',
      );
      const place = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, setup.ellipsoid);
      const isDrowned = drowns(own, total, row, setup);
      const vector = occupationVector(
        row,
        place,
        isDrowned ? modelTotal(own, row, setup) : total,
        own,
        sessionOf,
        share,
      );
      return success(vector, isDrowned ? [drowned(row, own)] : []);
    },
  };
}

/** Sigmas of points are written to this, metres; half of it is lost. */
const WRITTEN_SIGMA_M = 1e-4;
/** What rounding may leave unsaid of a variance that the model predicts, at most; beyond it the model's own counts. */
const MOST_UNSAID = 0.25;

/** Whether the error of the base is so large that the digits of a written sigma no longer hold the occupation's own. */
function drowns(
  { sigmas: { mark, setup } }: NetworkBase,
  total: LocalCovariance,
  { baselineM, baselineHeightDifferenceM }: PointRow,
  { precision }: ReductionSetup,
): boolean {
  // No baseline is known: the part of the model that does not grow with it.
  const predicted = precision.at(baselineM ?? 0, baselineHeightDifferenceM);
  const unsaid = (varianceM2: number): number => Math.sqrt(varianceM2) * WRITTEN_SIGMA_M;
  const isLost = (varianceM2: number, baseM: number, modelM: number): boolean =>
    baseM > modelM && unsaid(varianceM2) > MOST_UNSAID * modelM * modelM;
  return (
    isLost(total.eeM2, Math.hypot(mark.horizontalM, setup.horizontalM), predicted.horizontal.totalM) ||
    isLost(total.nnM2, Math.hypot(mark.horizontalM, setup.horizontalM), predicted.horizontal.totalM) ||
    isLost(total.uuM2, Math.hypot(mark.verticalM, setup.verticalM), predicted.vertical.totalM)
  );
}

/** The base's stated variances with those of the planning model for one fixed epoch, and of the pole. */
function modelTotal(
  { sigmas: { mark, setup } }: NetworkBase,
  { baselineM, baselineHeightDifferenceM, poleLengthM }: PointRow,
  { precision, rover }: ReductionSetup,
): LocalCovariance {
  // No baseline is known: the part of the model that does not grow with it.
  const { horizontal, vertical } = precision.at(baselineM ?? 0, baselineHeightDifferenceM);
  // Without a pole there is nothing to lean.
  const pole = poleCovariance(
    // Without a pole there is nothing to lean.
    { lengthM: poleLengthM ?? rover.poleLengthM ?? 0, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
    rover,
  );
  const plan = mark.horizontalM ** 2 + setup.horizontalM ** 2 + horizontal.totalM ** 2;
  const up = mark.verticalM ** 2 + setup.verticalM ** 2 + vertical.totalM ** 2;
  return { ...ZERO_COVARIANCE, eeM2: plan + pole.eeM2, nnM2: plan + pole.nnM2, uuM2: up + pole.uuM2 };
}

function drowned({ pointId }: PointRow, { setupName }: NetworkBase): Problem {
  return warningProblem('network-sigma-drowned', {
    message: `the sigmas of ${pointId} hold little but the error of base ${setupName}: the planning model's are used for its vector`,
    hint: 'where the base is not known, leave its sigmas out of the session: the sigmas of points are relative to it then',
  });
}

/** The vector of an occupation whose base is known; what it shares is handed to `share`, which returns its name. */
function occupationVector(
  row: PointRow,
  place: GeocentricPoint,
  total: LocalCovariance,
  { base, stationId, setupName, markKey, sigmas, shared: setUp }: NetworkBase,
  { setup, day }: OccupationSession,
  share: (error: SharedError) => string,
): OccupationVector {
  const { firstEpochMs, lastEpochMs } = row;
  const isTimed = firstEpochMs !== null && lastEpochMs !== null;
  const parts = splitCovariance(
    total,
    { distanceM: row.baselineM, heightDifferenceM: row.baselineHeightDifferenceM },
    setup.precision,
    sigmas,
    isTimed ? (lastEpochMs - firstEpochMs) / 1000 : 0,
  );
  const shared: SharedTerm[] = [];
  if (setUp.horizontalM > 0 || setUp.verticalM > 0) {
    const local = setupCovariance(atLeast(setUp));
    const error = { name: `set-up ${setupName}`, of: `set-ups of ${stationId}`, covariance: { stationId, local } };
    shared.push({ error: share(error), along: 'whole' });
  }
  const { poleSigmaM, poleLengthM } = setup.rover;
  const poleM2 = Math.min(poleSigmaM ** 2, MOST_OF_POLE * parts.independent.uuM2);
  if (poleM2 > 0) {
    const error = {
      name: poleName(row.poleLengthM ?? poleLengthM, dayOfOccupation(row.occupation) ?? day),
      of: 'poles',
      covariance: poleSigmaM ** 2,
    };
    shared.push({ error: share(error), along: 'up-to' });
  }
  const from = geodeticToGeocentric(base.origin.geodetic, setup.ellipsoid);
  return {
    vector: {
      fromId: stationId,
      toId: row.pointId,
      difference: { xM: place.xM - from.xM, yM: place.yM - from.yM, zM: place.zM - from.zM },
      shared,
      day: dayOfOccupation(row.occupation) ?? day,
    },
    independent: { ...parts.independent, uuM2: parts.independent.uuM2 - poleM2 },
    correlation: correlationOf(total),
    constant: parts.correlated,
    growing: parts.baseline,
    markKey,
    baselineM: Math.hypot(place.xM - from.xM, place.yM - from.yM, place.zM - from.zM),
    middleMs: isTimed ? (firstEpochMs + lastEpochMs) / 2 : null,
    precision: setup.precision,
  };
}

/** A pole of another length is another one, or was measured anew; each day its length is measured once. */
function poleName(lengthM: number | null, day: string): string {
  const length = lengthM === null ? 'pole' : `pole of ${formatFixed(lengthM, 3)} m`;
  return day === '' ? length : `${length}, ${day}`;
}

function atLeast({ horizontalM, verticalM }: NetworkBase['sigmas']['setup']): NetworkBase['sigmas']['setup'] {
  return { horizontalM: Math.max(horizontalM, FIXED_SIGMA_M), verticalM: Math.max(verticalM, FIXED_SIGMA_M) };
}

function correlationOf({ eeM2, nnM2, enM2 }: LocalCovariance): number {
  const product = eeM2 * nnM2;
  return product > 0 ? enM2 / Math.sqrt(product) : 0;
}

function totalOf({ sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn }: PointRow): LocalCovariance | null {
  if (sigmaEastM === null || sigmaNorthM === null || sigmaUpM === null) return null;
  return {
    ...ZERO_COVARIANCE,
    eeM2: sigmaEastM ** 2,
    nnM2: sigmaNorthM ** 2,
    uuM2: sigmaUpM ** 2,
    // Written sigmas and correlations are rounded: at ±1 the matrix would be singular.
    enM2: Math.max(-0.999, Math.min(0.999, correlationEn ?? 0)) * sigmaEastM * sigmaNorthM,
  };
}
