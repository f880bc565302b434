import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { CovarianceAt, SharedError, VectorObservation } from '../../core/network/network.js';
import { FIXED_SIGMA_M } from '../../core/network/network.js';
import { sumCovariance, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import { splitCovariance } from '../../core/quality/split-covariance.js';
import type { NetworkControlRow } from '../../records/network-rows.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { PointRow } from '../../records/points/point-row.js';
import { errorProblem } from '../../records/problem.js';
import { baseNamed } from '../bases/choose-base.js';
import type { PreparedBase } from '../bases/prepare-bases.js';
import { prepareStation } from '../bases/prepare-station.js';
import type { StationSetup } from '../bases/prepare-station.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { setupCovariance } from './network-input.js';

/** Makes vectors of occupations, and keeps what of their bases they share. */
export interface PointVectors {
  /** The vector from the base to the point of one occupation; null where it was rejected. */
  readonly of: (row: PointRow) => Outcome<VectorObservation | null>;
  /** Errors of the set-ups that the vectors made so far share, in the order of their names. */
  readonly shared: () => readonly SharedError[];
  /** The marks of the session whose coordinate is known, as control rows. */
  readonly control: readonly NetworkControlRow[];
}

/**
 * Vectors from the occupations of a points file.
 *
 * A point was reduced from its base, so that its position less the base's is what was measured. Its stated covariance holds the
 * error of the mark and of the set-up too: they are taken out of it, since here every vector from one base shares them.
 *
 * Given: the session resolved, with its grid. Problems of a row: base-unknown where the session does not describe its base;
 * value-missing without sigmas or an ellipsoidal height; those of its position.
 */
export function pointVectors(setup: ReductionSetup & StationSetup): PointVectors {
  const stationIds = stationNames(setup.bases);
  const names = new Map<string, SharedError>();
  const nameOf = (base: PreparedBase): string => `set-up ${base.identity.setupName}`;
  return {
    control: setup.bases.flatMap((base, index) => controlRow(base, index, setup.bases, stationIds)),
    shared: () => [...names.values()].sort((a, b) => (a.name < b.name ? -1 : 1)),
    of(row) {
      if (row.verdict === 'rejected') return success(null);
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
            hint: 'give the session that the points were reduced with',
          }),
        );
      const { identity, origin } = base;
      const durationS =
        row.firstEpochMs === null || row.lastEpochMs === null ? 0 : (row.lastEpochMs - row.firstEpochMs) / 1000;
      const parts = splitCovariance(
        total,
        { distanceM: row.baselineM, heightDifferenceM: row.baselineHeightDifferenceM },
        setup.precision,
        { mark: identity.mark, setup: identity.setup },
        durationS,
      );
      const own = sumCovariance(sumCovariance(parts.independent, parts.correlated), parts.baseline);
      const from = stationIds.get(base)!;
      const hasSetup = identity.setup.horizontalM > 0 || identity.setup.verticalM > 0;
      if (hasSetup && !names.has(nameOf(base)))
        names.set(nameOf(base), {
          name: nameOf(base),
          of: `set-ups of ${from}`,
          covariance: { stationId: from, local: setupCovariance(atLeast(identity.setup)) },
        });
      const a = geodeticToGeocentric(origin.geodetic, setup.ellipsoid);
      const b = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }, setup.ellipsoid);
      return success({
        fromId: from,
        toId: row.pointId,
        difference: { xM: b.xM - a.xM, yM: b.yM - a.yM, zM: b.zM - a.zM },
        covariance: covarianceAt(row.pointId, own, total),
        shared: hasSetup ? [{ error: nameOf(base), along: 'whole' }] : [],
      });
    },
  };
}

function atLeast({ horizontalM, verticalM }: PreparedBase['identity']['setup']): PreparedBase['identity']['setup'] {
  return { horizontalM: Math.max(horizontalM, FIXED_SIGMA_M), verticalM: Math.max(verticalM, FIXED_SIGMA_M) };
}

/** The covariance with the correlation of the whole, which its parts do not keep, and at least a micrometre in each axis. */
function covarianceAt(stationId: string, own: LocalCovariance, total: LocalCovariance): CovarianceAt {
  const least = FIXED_SIGMA_M ** 2;
  const [ee, nn, uu] = [Math.max(own.eeM2, least), Math.max(own.nnM2, least), Math.max(own.uuM2, least)];
  const product = total.eeM2 * total.nnM2;
  const correlation = product > 0 ? total.enM2 / Math.sqrt(product) : 0;
  return {
    stationId,
    local: { ...ZERO_COVARIANCE, eeM2: ee, nnM2: nn, uuM2: uu, enM2: correlation * Math.sqrt(ee * nn) },
  };
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

/** One station a mark: the id of its first base, or where another mark has that id the name of the set-up. */
function stationNames(bases: readonly PreparedBase[]): ReadonlyMap<PreparedBase, string> {
  const ofMark = new Map<string, string>();
  const taken = new Set<string>();
  const names = new Map<PreparedBase, string>();
  for (const base of bases) {
    const { markKey, setupName } = base.identity;
    let name = ofMark.get(markKey);
    if (name === undefined) {
      name = taken.has(base.settings.id) ? setupName : base.settings.id;
      taken.add(name);
      ofMark.set(markKey, name);
    }
    names.set(base, name);
  }
  return names;
}

/** A base whose coordinate is known, as control with the sigmas of its mark; each mark once. */
function controlRow(
  base: PreparedBase,
  index: number,
  bases: readonly PreparedBase[],
  stationIds: ReadonlyMap<PreparedBase, string>,
): readonly NetworkControlRow[] {
  const { settings, identity, origin } = base;
  if (settings.known === null) return [];
  if (
    bases.findIndex((other) => other.identity.markKey === identity.markKey && other.settings.known !== null) !== index
  )
    return [];
  const isStated = settings.sigmaHorizontalM !== null && settings.sigmaVerticalM !== null;
  return [
    {
      pointId: stationIds.get(base)!,
      geocentric: null,
      gridFirst: null,
      gridSecond: null,
      latitudeDeg: origin.geodetic.latitudeDeg,
      longitudeDeg: origin.geodetic.longitudeDeg,
      ellipsoidalHeightM: origin.geodetic.ellipsoidalHeightM,
      orthometricHeightM: null,
      sigmaHorizontalM: isStated ? identity.mark.horizontalM : null,
      sigmaVerticalM: isStated ? identity.mark.verticalM : null,
      held: isStated ? 'weighted' : 'fixed',
      place: { sourceIndex: -1, line: index + 1 },
    },
  ];
}
