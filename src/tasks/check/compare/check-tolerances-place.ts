import { eulerRadiusM } from '../../../core/ellipsoid/radii.js';
import { combinedFactor, elevationFactor } from '../../../core/grid/factors/elevation-factor.js';
import type { GridPairAndFactors } from '../../../core/grid/systems/grid-system.js';
import { ellipsoidalHeightM, orthometricHeightM } from '../../../core/geoid/orthometric-height.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { baseNamed } from '../../bases/choose-base.js';
import type { BaseVector, CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';

/**
 * Fills in what a row leaves out: grid from latitude and longitude or the reverse, geoid height from the row or the
 * model, the other height by h = H + N. The row's own values are never replaced. What cannot be had stays null; a place
 * outside the projection stays without its other form.
 */
export function placePoint(row: PointRow, setup: CheckSetup): PlacedPoint {
  const { grid } = setup;
  const scale = setup.axes.metresPerUnit;
  let { latitudeDeg, longitudeDeg } = row;
  let firstM = row.gridFirst === null ? null : row.gridFirst * scale;
  let secondM = row.gridSecond === null ? null : row.gridSecond * scale;
  const factors: GridPairAndFactors = {
    first: NaN,
    second: NaN,
    pointScaleFactor: null,
    convergenceDeg: 0,
    meridianScaleFactor: NaN,
    parallelScaleFactor: NaN,
  };
  if (grid !== null && latitudeDeg === null && row.gridFirst !== null && row.gridSecond !== null) {
    const place = { latitudeDeg: NaN, longitudeDeg: NaN };
    if (grid.inverse(row.gridFirst, row.gridSecond, place) === 'ok') ({ latitudeDeg, longitudeDeg } = place);
  }
  if (
    grid !== null &&
    latitudeDeg !== null &&
    longitudeDeg !== null &&
    grid.forwardWithFactors(latitudeDeg, longitudeDeg, factors) === 'ok'
  ) {
    firstM ??= factors.first * scale;
    secondM ??= factors.second * scale;
  }
  const geoidHeightM =
    row.geoidHeightM ??
    (latitudeDeg === null || longitudeDeg === null ? null : (setup.geoid?.heightAt(latitudeDeg, longitudeDeg) ?? null));
  const h =
    row.ellipsoidalHeightM ??
    (row.orthometricHeightM === null || geoidHeightM === null
      ? null
      : ellipsoidalHeightM(row.orthometricHeightM, geoidHeightM));
  const orthometric =
    row.orthometricHeightM ??
    (row.ellipsoidalHeightM === null || geoidHeightM === null
      ? null
      : orthometricHeightM(row.ellipsoidalHeightM, geoidHeightM));
  const pointScaleFactor = factors.pointScaleFactor ?? 1;
  return {
    row,
    firstM,
    secondM,
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: h,
    orthometricHeightM: orthometric,
    geoidHeightM,
    convergenceDeg: factors.convergenceDeg,
    pointScaleFactor,
    combinedFactor:
      row.combinedFactor ??
      (grid === null || h === null || latitudeDeg === null || factors.pointScaleFactor === null
        ? null
        : combinedFactor(pointScaleFactor, elevationFactor(eulerRadiusM(setup.ellipsoid, latitudeDeg, 45), h))),
  };
}

/** The line from the base to a point: by the session's base where it has one of that name, else as the row says. */
export function baseVector(point: PlacedPoint, setup: CheckSetup): BaseVector {
  const { row } = point;
  const base =
    baseNamed(row, setup.bases) ?? (setup.bases.length === 1 && row.baseId === null ? setup.bases[0] : undefined);
  if (base !== undefined && point.latitudeDeg !== null && point.longitudeDeg !== null) {
    const from = base.origin.geodetic;
    const line = setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, point.latitudeDeg, point.longitudeDeg);
    return {
      distanceM: line.distanceM,
      azimuthDeg: line.reverseAzimuthDeg === null ? null : (line.reverseAzimuthDeg + 180) % 360,
      heightDifferenceM:
        point.ellipsoidalHeightM === null
          ? row.baselineHeightDifferenceM
          : point.ellipsoidalHeightM - from.ellipsoidalHeightM,
    };
  }
  return {
    distanceM: row.baselineM,
    azimuthDeg: row.baselineAzimuthDeg,
    heightDifferenceM: row.baselineHeightDifferenceM,
  };
}
