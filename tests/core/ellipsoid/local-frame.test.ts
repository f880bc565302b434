import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import {
  geocentricToLocal,
  localFrameAt,
  localToGeocentric,
  rotateCovariance,
} from '../../../src/core/ellipsoid/local-frame.js';
import type { LocalCovariance, LocalVector } from '../../../src/records/points/point.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const rows = readReferenceTable('topocentric').map((row) => ({ name: row.case, row }));

describe('published topocentric positions', () => {
  it.each(rows)('$name: forward, inverse and a hundred round trips', ({ row }) => {
    const origin = { xM: row.number('origin_x_m'), yM: row.number('origin_y_m'), zM: row.number('origin_z_m') };
    const at = geocentricToGeodetic(origin, WGS84);
    const frame = localFrameAt(at.latitudeDeg, at.longitudeDeg);
    const difference = {
      xM: row.number('x_m') - origin.xM,
      yM: row.number('y_m') - origin.yM,
      zM: row.number('z_m') - origin.zM,
    };
    const local = { eastM: row.number('east_m'), northM: row.number('north_m'), upM: row.number('up_m') };
    const found = geocentricToLocal(frame, difference);
    for (const axis of ['eastM', 'northM', 'upM'] as const) {
      expect(Math.abs(found[axis] - local[axis])).toBeLessThanOrEqual(row.tolerance);
    }
    const back = localToGeocentric(frame, local);
    for (const axis of ['xM', 'yM', 'zM'] as const) {
      expect(Math.abs(back[axis] - difference[axis])).toBeLessThanOrEqual(2 * row.tolerance);
    }
    let wandering: LocalVector = found;
    for (let i = 0; i < 100; i += 1) wandering = geocentricToLocal(frame, localToGeocentric(frame, wandering));
    expect(
      Math.hypot(wandering.eastM - found.eastM, wandering.northM - found.northM, wandering.upM - found.upM),
    ).toBeLessThan(2e-8);
  });
});

describe('directions', () => {
  it('points up along the normal, north to the pole and east along the parallel', () => {
    const place = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 };
    const frame = localFrameAt(place.latitudeDeg, place.longitudeDeg);
    const start = geodeticToGeocentric(place, WGS84);
    const moved = (vector: LocalVector): ReturnType<typeof geocentricToGeodetic> => {
      const step = localToGeocentric(frame, vector);
      return geocentricToGeodetic({ xM: start.xM + step.xM, yM: start.yM + step.yM, zM: start.zM + step.zM }, WGS84);
    };
    const up = moved({ eastM: 0, northM: 0, upM: 2 });
    expect(up.ellipsoidalHeightM - place.ellipsoidalHeightM).toBeCloseTo(2, 7);
    expect(up.latitudeDeg).toBeCloseTo(place.latitudeDeg, 12);
    expect(moved({ eastM: 0, northM: 1, upM: 0 }).latitudeDeg).toBeGreaterThan(place.latitudeDeg + 8e-6);
    expect(moved({ eastM: 1, northM: 0, upM: 0 }).longitudeDeg).toBeGreaterThan(place.longitudeDeg + 1e-5);
  });
});

const covariance = fc
  .tuple(...Array.from({ length: 6 }, () => fc.double({ min: -0.1, max: 0.1, noNaN: true })))
  .map(([a = 0, b = 0, c = 0, d = 0, e = 0, f = 0]): LocalCovariance => ({
    eeM2: a * a,
    enM2: a * b,
    euM2: a * c,
    nnM2: b * b + d * d,
    nuM2: b * c + d * e,
    uuM2: c * c + e * e + f * f,
  }));
const latitude = fc.double({ min: -90, max: 90, noNaN: true });
const longitude = fc.double({ min: -180, max: 180, noNaN: true });

describe('rotateCovariance', () => {
  it('is undone by exchanging the frames, and keeps the trace', () => {
    fc.assert(
      fc.property(latitude, longitude, latitude, longitude, covariance, (lat1, lon1, lat2, lon2, c) => {
        const one = localFrameAt(lat1, lon1);
        const other = localFrameAt(lat2, lon2);
        const turned = rotateCovariance(one, other, c);
        expect(turned.eeM2 + turned.nnM2 + turned.uuM2).toBeCloseTo(c.eeM2 + c.nnM2 + c.uuM2, 14);
        const back = rotateCovariance(other, one, turned);
        for (const key of Object.keys(c) as (keyof LocalCovariance)[]) expect(back[key]).toBeCloseTo(c[key], 14);
      }),
      { seed: 5 },
    );
  });

  it('turns the covariance of one error as the error itself turns', () => {
    fc.assert(
      fc.property(latitude, longitude, latitude, longitude, (lat1, lon1, lat2, lon2) => {
        const one = localFrameAt(lat1, lon1);
        const other = localFrameAt(lat2, lon2);
        const v = { eastM: 0.3, northM: -0.2, upM: 0.5 };
        const w = geocentricToLocal(other, localToGeocentric(one, v));
        const outer = (x: LocalVector): LocalCovariance => ({
          eeM2: x.eastM * x.eastM,
          enM2: x.eastM * x.northM,
          euM2: x.eastM * x.upM,
          nnM2: x.northM * x.northM,
          nuM2: x.northM * x.upM,
          uuM2: x.upM * x.upM,
        });
        const turned = rotateCovariance(one, other, outer(v));
        const expected = outer(w);
        for (const key of Object.keys(expected) as (keyof LocalCovariance)[])
          expect(turned[key]).toBeCloseTo(expected[key], 14);
      }),
      { seed: 6 },
    );
  });
});
