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
 * outside the projection stays without its other form. Each is worked out when it is first asked for: a copy by `...` would have none.
 */
export function placePoint(row: PointRow, setup: CheckSetup): PlacedPoint {
  return new Placed(row, setup);
}

/** A latitude and longitude, either of which may not be known. */
type GeographicPair = Pick<PointRow, 'latitudeDeg' | 'longitudeDeg'>;

// eslint-disable-next-line no-restricted-syntax -- getters on one prototype: most comparisons ask for neither the projection nor the geoid
class Placed implements PlacedPoint {
  readonly row: PointRow;
  readonly #setup: CheckSetup;
  #pair: GeographicPair | null = null;
  #projected: GridPairAndFactors | null = null;

  constructor(row: PointRow, setup: CheckSetup) {
    this.row = row;
    this.#setup = setup;
  }

  get #geographic(): GeographicPair {
    return (this.#pair ??= geographicPair(this.row, this.#setup));
  }

  get #factors(): GridPairAndFactors {
    return (this.#projected ??= projected(this.#geographic, this.#setup));
  }

  get firstM(): number | null {
    return this.#gridM(this.row.gridFirst, 'first');
  }

  get secondM(): number | null {
    return this.#gridM(this.row.gridSecond, 'second');
  }

  #gridM(own: number | null, axis: 'first' | 'second'): number | null {
    const scale = this.#setup.axes.metresPerUnit;
    if (own !== null) return own * scale;
    const value = this.#factors[axis];
    return Number.isNaN(value) ? null : value * scale;
  }

  get latitudeDeg(): number | null {
    return this.#geographic.latitudeDeg;
  }

  get longitudeDeg(): number | null {
    return this.#geographic.longitudeDeg;
  }

  get geoidHeightM(): number | null {
    const own = this.row.geoidHeightM;
    const { geoid } = this.#setup;
    if (own !== null || geoid === null) return own;
    const { latitudeDeg, longitudeDeg } = this.#geographic;
    return latitudeDeg === null || longitudeDeg === null ? null : geoid.heightAt(latitudeDeg, longitudeDeg);
  }

  get ellipsoidalHeightM(): number | null {
    const { ellipsoidalHeightM: own, orthometricHeightM } = this.row;
    if (own !== null || orthometricHeightM === null) return own;
    const { geoidHeightM } = this;
    return geoidHeightM === null ? null : ellipsoidalHeightM(orthometricHeightM, geoidHeightM);
  }

  get orthometricHeightM(): number | null {
    const { orthometricHeightM: own, ellipsoidalHeightM: ellipsoidal } = this.row;
    if (own !== null || ellipsoidal === null) return own;
    const { geoidHeightM } = this;
    return geoidHeightM === null ? null : orthometricHeightM(ellipsoidal, geoidHeightM);
  }

  get convergenceDeg(): number {
    return this.#factors.convergenceDeg;
  }

  get pointScaleFactor(): number {
    return this.#factors.pointScaleFactor ?? 1;
  }

  get combinedFactor(): number | null {
    const own = this.row.combinedFactor;
    if (own !== null) return own;
    const { pointScaleFactor } = this.#factors;
    const { latitudeDeg } = this.#geographic;
    const h = this.ellipsoidalHeightM;
    return this.#setup.grid === null || h === null || latitudeDeg === null || pointScaleFactor === null
      ? null
      : combinedFactor(pointScaleFactor, elevationFactor(eulerRadiusM(this.#setup.ellipsoid, latitudeDeg, 45), h));
  }
}

/** Latitude and longitude as the row has them, or of its grid pair. */
function geographicPair(row: PointRow, { grid }: CheckSetup): GeographicPair {
  const { latitudeDeg, longitudeDeg, gridFirst, gridSecond } = row;
  if (grid === null || latitudeDeg !== null || gridFirst === null || gridSecond === null)
    return { latitudeDeg, longitudeDeg };
  const place = { latitudeDeg: NaN, longitudeDeg: NaN };
  return grid.inverse(gridFirst, gridSecond, place) === 'ok' ? place : { latitudeDeg, longitudeDeg };
}

/** The grid pair of a place, NaN where there is none, with its factors. */
function projected({ latitudeDeg, longitudeDeg }: GeographicPair, { grid }: CheckSetup): GridPairAndFactors {
  const factors = noFactors();
  if (grid === null || latitudeDeg === null || longitudeDeg === null) return factors;
  return grid.forwardWithFactors(latitudeDeg, longitudeDeg, factors) === 'ok' ? factors : noFactors();
}

function noFactors(): GridPairAndFactors {
  return {
    first: NaN,
    second: NaN,
    pointScaleFactor: null,
    convergenceDeg: 0,
    meridianScaleFactor: NaN,
    parallelScaleFactor: NaN,
  };
}

/**
 * The line from the base to a point: by the session's base where it has one of that name, else as the row says. It ends at the place that
 * is known for the point, where that has a latitude.
 */
export function baseVector(point: PlacedPoint, setup: CheckSetup, known: PlacedPoint = point): BaseVector {
  const { row } = point;
  const base =
    baseNamed(row, setup.bases) ?? (setup.bases.length === 1 && row.baseId === null ? setup.bases[0] : undefined);
  if (base !== undefined) {
    const end = known.latitudeDeg === null ? point : known;
    const { latitudeDeg, longitudeDeg } = end;
    if (latitudeDeg !== null && longitudeDeg !== null) {
      const from = base.origin.geodetic;
      const line = setup.geodesic.inverse(from.latitudeDeg, from.longitudeDeg, latitudeDeg, longitudeDeg);
      const heightM = end.ellipsoidalHeightM ?? point.ellipsoidalHeightM;
      return {
        distanceM: line.distanceM,
        azimuthDeg: line.reverseAzimuthDeg === null ? null : (line.reverseAzimuthDeg + 180) % 360,
        heightDifferenceM: heightM === null ? row.baselineHeightDifferenceM : heightM - from.ellipsoidalHeightM,
      };
    }
  }
  return {
    distanceM: row.baselineM,
    azimuthDeg: row.baselineAzimuthDeg,
    heightDifferenceM: row.baselineHeightDifferenceM,
  };
}
