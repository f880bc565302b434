import type { AxisSigns } from '../../../core/grid/systems/grid-axes.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import {
  covarianceFromSigmas,
  diagonalCovariance,
  sumCovariance,
} from '../../../core/observation/uncertainty/local-covariance.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { addedByDay } from '../../repeats/added-by-day.js';
import { baseNamed } from '../../bases/choose-base.js';
import type { BaseVector, CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { present } from '../../../records/present.js';

/** A difference of two places: along the system's own axes, and up in one kind of height. */
export interface PlaceDifference {
  readonly firstM: number | null;
  readonly secondM: number | null;
  readonly upM: number | null;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** Both sides have a height, of kinds that nothing joins. */
  readonly heightsDiffer: boolean;
}

/** Measured minus known. Without grid values on both sides, the local east and north on the ellipsoid. */
export function placeDifference(measured: PlacedPoint, known: PlacedPoint, setup: CheckSetup): PlaceDifference {
  const plan = planDifference(measured, known, setup);
  const bothOrthometric = measured.orthometricHeightM !== null && known.orthometricHeightM !== null;
  const bothEllipsoidal = measured.ellipsoidalHeightM !== null && known.ellipsoidalHeightM !== null;
  // The kind that the known side itself gives comes first: it is not changed through a geoid model.
  const preferOrthometric = known.row.orthometricHeightM !== null || known.row.ellipsoidalHeightM === null;
  if (bothOrthometric && (preferOrthometric || !bothEllipsoidal)) {
    return {
      ...plan,
      upM:
        present(measured.orthometricHeightM, 'orthometricHeightM') -
        present(known.orthometricHeightM, 'orthometricHeightM'),
      heightKind: 'orthometric',
      heightsDiffer: false,
    };
  }
  if (bothEllipsoidal)
    return {
      ...plan,
      upM:
        present(measured.ellipsoidalHeightM, 'ellipsoidalHeightM') -
        present(known.ellipsoidalHeightM, 'ellipsoidalHeightM'),
      heightKind: 'ellipsoidal',
      heightsDiffer: false,
    };
  const hasHeight = (point: PlacedPoint): boolean =>
    point.orthometricHeightM !== null || point.ellipsoidalHeightM !== null;
  return { ...plan, upM: null, heightKind: null, heightsDiffer: hasHeight(measured) && hasHeight(known) };
}

function planDifference(
  measured: PlacedPoint,
  known: PlacedPoint,
  setup: CheckSetup,
): { readonly firstM: number | null; readonly secondM: number | null } {
  if (measured.firstM !== null && known.firstM !== null && measured.secondM !== null && known.secondM !== null) {
    return { firstM: measured.firstM - known.firstM, secondM: measured.secondM - known.secondM };
  }
  if (
    setup.grid !== null ||
    measured.latitudeDeg === null ||
    known.latitudeDeg === null ||
    measured.longitudeDeg === null ||
    known.longitudeDeg === null
  ) {
    return { firstM: null, secondM: null };
  }
  const at = (latitudeDeg: number, longitudeDeg: number): ReturnType<typeof geodeticToGeocentric> =>
    geodeticToGeocentric(
      // Both places lie at one height, whichever: plan does not feel it.
      { latitudeDeg, longitudeDeg, ellipsoidalHeightM: known.ellipsoidalHeightM ?? 0 },
      setup.ellipsoid,
    );
  const a = at(measured.latitudeDeg, measured.longitudeDeg);
  const b = at(known.latitudeDeg, known.longitudeDeg);
  const local = geocentricToLocal(localFrameAt(known.latitudeDeg, known.longitudeDeg), {
    xM: a.xM - b.xM,
    yM: a.yM - b.yM,
    zM: a.zM - b.zM,
  });
  return { firstM: local.eastM, secondM: local.northM };
}

/** A difference along, and to the right of, the direction from the base. Null where that is not known. */
export function alongAcross(
  difference: PlaceDifference,
  vector: BaseVector,
  convergenceDeg: number,
  [eastSign, northSign]: AxisSigns,
): { readonly alongM: number | null; readonly acrossM: number | null } {
  const { firstM, secondM } = difference;
  if (firstM === null || secondM === null || vector.azimuthDeg === null) return { alongM: null, acrossM: null };
  const bearing = (vector.azimuthDeg - convergenceDeg) * RADIANS_PER_DEGREE;
  const east = eastSign * firstM;
  const north = northSign * secondM;
  return {
    alongM: east * Math.sin(bearing) + north * Math.cos(bearing),
    acrossM: east * Math.cos(bearing) - north * Math.sin(bearing),
  };
}

/** The convergence of a place for `alongAcross`; 0 without an azimuth, which asks for none. */
export function convergenceAt(place: Pick<PlacedPoint, 'convergenceDeg'>, { azimuthDeg }: BaseVector): number {
  return azimuthDeg === null ? 0 : place.convergenceDeg;
}

/** `statedCovariance` with what the day adds to it, where the setup is to hold that. */
export function measuredCovariance(
  point: Pick<PlacedPoint, 'row' | 'convergenceDeg'>,
  vector: BaseVector,
  setup: CheckSetup,
): ReturnType<typeof statedCovariance> {
  const stated = statedCovariance(point, vector, setup);
  if (setup.day === null || stated.covariance === null) return stated;
  const { planM2, upM2 } = addedByDay({ distanceM: vector.distanceM, vector }, setup.day, setup.precision);
  return { ...stated, covariance: sumCovariance(stated.covariance, diagonalCovariance(planM2, planM2, upM2)) };
}

/**
 * Covariance of a measured point along grid east and north and up, m²: from its sigmas, turned by the convergence; the
 * planning model with the base where it states none. Null where neither is possible.
 */
function statedCovariance(
  point: Pick<PlacedPoint, 'row' | 'convergenceDeg'>,
  vector: BaseVector,
  setup: CheckSetup,
): { readonly covariance: LocalCovariance | null; readonly isAssumed: boolean } {
  const { sigmaEastM, sigmaNorthM, sigmaUpM } = point.row;
  if (sigmaEastM !== null && sigmaNorthM !== null && sigmaUpM !== null) {
    return {
      covariance: turned(
        covarianceFromSigmas(sigmaEastM, sigmaNorthM, sigmaUpM, point.row.correlationEn),
        point.convergenceDeg,
      ),
      isAssumed: false,
    };
  }
  if (vector.distanceM === null) return { covariance: null, isAssumed: true };
  const predicted = setup.precision.at(vector.distanceM, vector.heightDifferenceM);
  const base = baseNamed(point.row, setup.bases) ?? setup.bases[0];
  // No set-up of the session, or no sigma of it: the model alone.
  const h = predicted.horizontal.totalM ** 2 + (base?.settings.sigmaHorizontalM ?? 0) ** 2;
  // No set-up of the session, or no sigma of it: the model alone.
  const v = predicted.vertical.totalM ** 2 + (base?.settings.sigmaVerticalM ?? 0) ** 2;
  return { covariance: covarianceFromSigmas(Math.sqrt(h), Math.sqrt(h), Math.sqrt(v), null), isAssumed: true };
}

function turned(c: LocalCovariance, convergenceDeg: number): LocalCovariance {
  const gamma = convergenceDeg * RADIANS_PER_DEGREE;
  const cos = Math.cos(gamma);
  const sin = Math.sin(gamma);
  return {
    ...c,
    eeM2: cos * cos * c.eeM2 - 2 * sin * cos * c.enM2 + sin * sin * c.nnM2,
    nnM2: sin * sin * c.eeM2 + 2 * sin * cos * c.enM2 + cos * cos * c.nnM2,
    enM2: sin * cos * (c.eeM2 - c.nnM2) + (cos * cos - sin * sin) * c.enM2,
  };
}
