import { describe, expect, it } from 'vitest';
import { loadGridSystem } from '../../../../src/files/systems/load-systems.js';
import type { PreparedBase } from '../../../../src/tasks/bases/prepare-bases.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import {
  alongAcross,
  measuredCovariance,
  placeDifference,
} from '../../../../src/tasks/check/compare/check-tolerances-difference.js';
import { baseVector, placePoint } from '../../../../src/tasks/check/compare/check-tolerances-place.js';
import type { CheckSetup } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, placedRow, pointRow } from '../../../support/check-setup.js';
import { valueOf } from '../../../support/shift-of-row.js';

const close = (value: number, digits: number): unknown => expect.closeTo(value, digits);
/** Heights of a geoid that is level: 30 m everywhere. */
const geoid = { heightAt: () => 30 } as unknown as NonNullable<CheckSetup['geoid']>;
const utm = valueOf(loadGridSystem('EPSG:25832'));
const GRID: CheckSetup = { ...PLAIN_CHECK, grid: utm };

describe('a point is placed', () => {
  it('by its own grid values, which stay as they are, and by those of its latitude and longitude where it has none', () => {
    // EPSG:25832 on its central meridian, at the equator: easting 500 000 m, northing 0; scale 0.9996 (EPSG method 9807).
    const own = placedRow({ gridFirst: 500_000.25, gridSecond: 1, latitudeDeg: 0, longitudeDeg: 9 }, GRID);
    expect([own.firstM, own.secondM]).toEqual([500_000.25, 1]);
    const made = placedRow({ latitudeDeg: 0, longitudeDeg: 9 }, GRID);
    expect([made.firstM, made.secondM]).toEqual([close(500_000, 6), close(0, 6)]);
    expect(made.pointScaleFactor).toBeCloseTo(0.9996, 9);
    expect(made.convergenceDeg).toBeCloseTo(0, 9);
    const back = placedRow({ gridFirst: 500_000, gridSecond: 0 }, GRID);
    expect([back.latitudeDeg, back.longitudeDeg]).toEqual([close(0, 9), close(9, 9)]);
    expect(placedRow({ gridFirst: 500_000 }, GRID)).toMatchObject({ latitudeDeg: null, longitudeDeg: null });
    expect(placedRow({ latitudeDeg: 47 }, GRID)).toMatchObject({ firstM: null, secondM: null });
  });

  it('without a grid by what the row has, at scale 1 and without convergence', () => {
    expect(placedRow({ gridFirst: 5, gridSecond: 6 })).toMatchObject({
      firstM: 5,
      secondM: 6,
      latitudeDeg: null,
      pointScaleFactor: 1,
      convergenceDeg: 0,
      combinedFactor: null,
    });
    // Metres of a grid in feet.
    const grid = valueOf(loadGridSystem('EPSG:2278'));
    const texas: CheckSetup = { ...PLAIN_CHECK, grid, axes: { ...PLAIN_CHECK.axes, metresPerUnit: 1200 / 3937 } };
    const pair = { first: 0, second: 0 };
    expect(grid.forward(29, -98, pair)).toBe('ok');
    expect(placedRow({ latitudeDeg: 29, longitudeDeg: -98 }, texas)).toMatchObject({
      firstM: close((pair.first * 1200) / 3937, 6),
      secondM: close((pair.second * 1200) / 3937, 6),
    });
    const feet: CheckSetup = { ...PLAIN_CHECK, axes: { ...PLAIN_CHECK.axes, metresPerUnit: 0.3048 } };
    expect(placedRow({ gridFirst: 1000, gridSecond: 2000 }, feet)).toMatchObject({
      firstM: close(304.8, 9),
      secondM: close(609.6, 9),
    });
  });

  it('with the other height by h = H + N, of its own geoid height before that of the model', () => {
    const at = { latitudeDeg: 46, longitudeDeg: 10 };
    const setup: CheckSetup = { ...PLAIN_CHECK, geoid };
    const heights = (own: Partial<PointRow>, with_: CheckSetup = setup): readonly (number | null)[] => {
      const { ellipsoidalHeightM, orthometricHeightM, geoidHeightM } = placePoint(pointRow(own), with_);
      return [ellipsoidalHeightM, orthometricHeightM, geoidHeightM];
    };
    expect(heights({ ...at, orthometricHeightM: 100 })).toEqual([130, 100, 30]);
    expect(heights({ ...at, ellipsoidalHeightM: 130 })).toEqual([130, 100, 30]);
    expect(heights({ ...at, ellipsoidalHeightM: 130, orthometricHeightM: 99 })).toEqual([130, 99, 30]);
    expect(heights({ ...at, ellipsoidalHeightM: 130, geoidHeightM: 31 })).toEqual([130, 99, 31]);
    expect(heights({ ellipsoidalHeightM: 130 })).toEqual([130, null, null]);
    expect(heights({ latitudeDeg: 46, ellipsoidalHeightM: 130 })).toEqual([130, null, null]);
    expect(heights({ ...at, orthometricHeightM: 100 }, PLAIN_CHECK)).toEqual([null, 100, null]);
    expect(heights(at)).toEqual([null, null, 30]);
  });

  it('with the combined factor of its height in a grid', () => {
    const at = { latitudeDeg: 0, longitudeDeg: 9 };
    // 0.9996 times R/(R + h): at the equator and 45° the radius is 2·6335439.327·6378137/(6335439.327 + 6378137) = 6356716.6 m (GRS 80, Euler).
    expect(placedRow({ ...at, ellipsoidalHeightM: 1000 }, GRID).combinedFactor).toBeCloseTo(
      (0.9996 * 6_356_716.6) / 6_357_716.6,
      9,
    );
    expect(placedRow({ ...at, ellipsoidalHeightM: 1000, combinedFactor: 0.5 }, GRID).combinedFactor).toBe(0.5);
    expect(placedRow(at, GRID).combinedFactor).toBeNull();
    expect(placedRow({ ...at, ellipsoidalHeightM: 1000 }).combinedFactor).toBeNull();
  });
});

describe('the difference of two points', () => {
  it('is along the axes of the grid where both have its values', () => {
    expect(
      placeDifference(
        placedRow({ gridFirst: 5, gridSecond: 7 }),
        placedRow({ gridFirst: 2, gridSecond: 3 }),
        PLAIN_CHECK,
      ),
    ).toEqual({ firstM: 3, secondM: 4, upM: null, heightKind: null, heightsDiffer: false });
  });

  it('is along east and north on the ellipsoid where there is no grid, and none where there is one that holds it not', () => {
    const measured = placedRow({ latitudeDeg: 46.0001, longitudeDeg: 10 });
    const known = placedRow({ latitudeDeg: 46, longitudeDeg: 10 });
    const east = placedRow({ latitudeDeg: 46, longitudeDeg: 10.0001 });
    // 0.0001° at 46° N on GRS 80: 11.11513 m of meridian and 7.74633 m of parallel, by its radii of curvature.
    expect(placeDifference(measured, known, PLAIN_CHECK)).toMatchObject({
      firstM: close(0, 6),
      secondM: close(11.11513, 4),
    });
    expect(placeDifference(east, known, PLAIN_CHECK)).toMatchObject({
      firstM: close(7.74633, 4),
      secondM: close(0, 4),
    });
    expect(placeDifference(known, east, PLAIN_CHECK)).toMatchObject({ firstM: close(-7.74633, 4) });
    expect(placeDifference(measured, known, GRID)).toMatchObject({ firstM: null, secondM: null });
    for (const half of [{ latitudeDeg: 46 }, { longitudeDeg: 10 }, { gridFirst: 1, gridSecond: 2 }])
      for (const [one, other] of [
        [placedRow(half), known],
        [known, placedRow(half)],
      ] as const)
        expect(placeDifference(one, other, PLAIN_CHECK)).toMatchObject({ firstM: null, secondM: null });
    for (const half of [{ gridFirst: 1 }, { gridSecond: 2 }])
      for (const [one, other] of [
        [placedRow(half), placedRow({ gridFirst: 1, gridSecond: 2 })],
        [placedRow({ gridFirst: 1, gridSecond: 2 }), placedRow(half)],
      ] as const)
        expect(placeDifference(one, other, PLAIN_CHECK)).toMatchObject({ firstM: null, secondM: null });
  });

  it.each<readonly [Partial<PointRow>, Partial<PointRow>, boolean, number | null, string | null, boolean]>([
    // measured, known, with a geoid; up, kind, heights of kinds that nothing joins
    [{ ellipsoidalHeightM: 130.5 }, { ellipsoidalHeightM: 130 }, false, 0.5, 'ellipsoidal', false],
    [{ orthometricHeightM: 100.5 }, { orthometricHeightM: 100 }, false, 0.5, 'orthometric', false],
    [{ ellipsoidalHeightM: 130.5 }, { orthometricHeightM: 100 }, false, null, null, true],
    [{ orthometricHeightM: 100.5 }, { ellipsoidalHeightM: 130 }, false, null, null, true],
    [{}, { ellipsoidalHeightM: 130 }, false, null, null, false],
    [{ orthometricHeightM: 100.5 }, {}, false, null, null, false],
    // The kind of the known side comes first.
    [{ ellipsoidalHeightM: 130.5 }, { orthometricHeightM: 100 }, true, 0.5, 'orthometric', false],
    [{ orthometricHeightM: 100.5 }, { ellipsoidalHeightM: 130 }, true, 0.5, 'ellipsoidal', false],
    [
      { ellipsoidalHeightM: 130.5, orthometricHeightM: 100.25 },
      { ellipsoidalHeightM: 130, orthometricHeightM: 100 },
      false,
      0.25,
      'orthometric',
      false,
    ],
    [
      { ellipsoidalHeightM: 130.5, orthometricHeightM: 100.25 },
      { ellipsoidalHeightM: 130 },
      false,
      0.5,
      'ellipsoidal',
      false,
    ],
    [
      { orthometricHeightM: 100.25 },
      { ellipsoidalHeightM: 130, orthometricHeightM: 100 },
      false,
      0.25,
      'orthometric',
      false,
    ],
  ])('in height, of %j and %j', (measured, known, hasGeoid, upM, heightKind, heightsDiffer) => {
    const setup: CheckSetup = { ...PLAIN_CHECK, geoid: hasGeoid ? geoid : null };
    const at = { latitudeDeg: 46, longitudeDeg: 10 };
    expect(
      placeDifference(placedRow({ ...at, ...measured }, setup), placedRow({ ...at, ...known }, setup), setup),
    ).toMatchObject({ upM: upM === null ? null : close(upM, 9), heightKind, heightsDiffer });
  });

  it('has parts along the line from the base and to its right, on axes that count either way', () => {
    const difference = { firstM: 3, secondM: 4, upM: null, heightKind: null, heightsDiffer: false } as const;
    const parts = (
      azimuthDeg: number | null,
      convergenceDeg: number,
      signs: readonly [1 | -1, 1 | -1] = [1, 1],
    ): unknown => alongAcross(difference, { distanceM: 1, azimuthDeg, heightDifferenceM: null }, convergenceDeg, signs);
    // Due east of the base the east part is along, and south is to the right.
    expect(parts(90, 0)).toEqual({ alongM: close(3, 9), acrossM: close(-4, 9) });
    expect(parts(0, 0)).toEqual({ alongM: close(4, 9), acrossM: close(3, 9) });
    // Grid north lies to the right of true north by the convergence.
    expect(parts(90, 90)).toEqual({ alongM: close(4, 9), acrossM: close(3, 9) });
    expect(parts(0, 0, [-1, 1])).toEqual({ alongM: close(4, 9), acrossM: close(-3, 9) });
    expect(parts(0, 0, [1, -1])).toEqual({ alongM: close(-4, 9), acrossM: close(3, 9) });
    expect(parts(null, 0)).toEqual({ alongM: null, acrossM: null });
    for (const part of [{ firstM: null }, { secondM: null }])
      expect(
        alongAcross({ ...difference, ...part }, { distanceM: 1, azimuthDeg: 0, heightDifferenceM: null }, 0, [1, 1]),
      ).toEqual({ alongM: null, acrossM: null });
  });
});

const base = (id: string, latitudeDeg: number, own: object = {}): PreparedBase =>
  ({
    settings: { id, fromMs: null, toMs: null, sigmaHorizontalM: null, sigmaVerticalM: null, ...own },
    origin: { geodetic: { latitudeDeg, longitudeDeg: 10, ellipsoidalHeightM: 50 }, at: 'mark' },
  }) as unknown as PreparedBase;

describe('the line from the base', () => {
  const north = { latitudeDeg: 46.0001, longitudeDeg: 10, ellipsoidalHeightM: 60 };
  const stated = { baselineM: 123, baselineAzimuthDeg: 45, baselineHeightDifferenceM: 6 };
  it('is that from the base of the session which the row names, or from its only one', () => {
    const setup: CheckSetup = { ...PLAIN_CHECK, bases: [base('B1', 46)] };
    const line = { distanceM: close(11.11513, 4), azimuthDeg: close(0, 6), heightDifferenceM: 10 };
    expect(baseVector(placedRow({ ...north, baseId: 'B1', ...stated }), setup)).toEqual(line);
    expect(baseVector(placedRow(north), setup)).toEqual(line);
    const south = placedRow({ latitudeDeg: 45.9999, longitudeDeg: 10, baselineHeightDifferenceM: 7 });
    expect(baseVector(south, setup)).toEqual({
      distanceM: close(11.11513, 4),
      azimuthDeg: close(180, 6),
      heightDifferenceM: 7,
    });
    const two: CheckSetup = { ...PLAIN_CHECK, bases: [base('B1', 46), base('B2', 47)] };
    expect(baseVector(placedRow({ ...north, baseId: 'B2' }), two).distanceM).toBeGreaterThan(100_000);
  });

  it('is what the row says where the session has no such base, or the row no place', () => {
    const setup: CheckSetup = { ...PLAIN_CHECK, bases: [base('B1', 46)] };
    const two: CheckSetup = { ...PLAIN_CHECK, bases: [base('B1', 46), base('B2', 47)] };
    const said = { distanceM: 123, azimuthDeg: 45, heightDifferenceM: 6 };
    expect(baseVector(placedRow({ ...north, baseId: 'B9', ...stated }), setup)).toEqual(said);
    expect(baseVector(placedRow({ ...north, ...stated }), two)).toEqual(said);
    expect(baseVector(placedRow({ baseId: 'B1', ...stated }), setup)).toEqual(said);
    expect(baseVector(placedRow({ baseId: 'B1', latitudeDeg: 46, ...stated }), setup)).toEqual(said);
  });
});

describe('the covariance of a measured point', () => {
  const sigmas = { sigmaEastM: 3, sigmaNorthM: 1, sigmaUpM: 2 };
  const nowhere = { distanceM: null, azimuthDeg: null, heightDifferenceM: null };
  it('is that of its sigmas, turned into the axes of the grid', () => {
    const at = (convergenceDeg: number, correlationEn: number | null = null): unknown =>
      measuredCovariance({ ...placedRow({ ...sigmas, correlationEn }), convergenceDeg }, nowhere, PLAIN_CHECK);
    const of = (ee: number, en: number, nn: number): unknown => ({
      covariance: { eeM2: close(ee, 9), enM2: close(en, 9), euM2: 0, nnM2: close(nn, 9), nuM2: 0, uuM2: 4 },
      isAssumed: false,
    });
    expect(at(0)).toEqual(of(9, 0, 1));
    expect(at(90)).toEqual(of(1, 0, 9));
    // cos² 30° is three quarters: 0.75·9 + 0.25; sin·cos·8 is 2·√3.
    expect(at(30)).toEqual(of(7, 2 * Math.sqrt(3), 3));
    // At 45° the two are evened out, and half of their difference is common: (9 − 1)/2.
    expect(at(45)).toEqual(of(5, 4, 5));
    // With a correlation of a half, 1.5 m² are common before: 5 − 1.5, 5 + 1.5.
    expect(at(45, 0.5)).toEqual(of(3.5, 4, 6.5));
    expect(at(0, 0.5)).toEqual(of(9, 1.5, 1));
  });

  it('is that of the planning model with the sigmas of the base where one of the three is missing', () => {
    const { precision } = PLAIN_CHECK;
    const vector = { distanceM: 5000, azimuthDeg: 0, heightDifferenceM: 0 };
    const model = precision.at(5000, 0);
    const setup: CheckSetup = {
      ...PLAIN_CHECK,
      bases: [base('B1', 46, { sigmaHorizontalM: 0.03, sigmaVerticalM: 0.04 }), base('B2', 47)],
    };
    for (const missing of ['sigmaEastM', 'sigmaNorthM', 'sigmaUpM'] as const) {
      const of = (baseId: string | null, with_: CheckSetup = setup): unknown =>
        measuredCovariance(placedRow({ ...sigmas, [missing]: null, baseId }), vector, with_);
      const h = model.horizontal.totalM ** 2;
      const v = model.vertical.totalM ** 2;
      const made = (plan: number, up: number): unknown => ({
        covariance: { eeM2: close(plan, 12), enM2: 0, euM2: 0, nnM2: close(plan, 12), nuM2: 0, uuM2: close(up, 12) },
        isAssumed: true,
      });
      expect(of('B1')).toEqual(made(h + 0.0009, v + 0.0016));
      expect(of('B2')).toEqual(made(h, v));
      // A base that is not known is taken to be as good as the first.
      expect(of('B9')).toEqual(made(h + 0.0009, v + 0.0016));
      expect(of('B9', PLAIN_CHECK)).toEqual(made(h, v));
    }
    expect(measuredCovariance(placedRow({}), nowhere, setup)).toEqual({ covariance: null, isAssumed: true });
  });
});
