import { describe, expect, it } from 'vitest';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../../../src/core/ellipsoid/geocentric.js';
import { frameShiftsOf } from '../../../../../src/core/quality/cause/hypotheses/frame-shift.js';
import { gridOf } from '../../../grid/systems.js';

const KAROO = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
const names = (code: string, place = KAROO, epochYear: number | null = null): readonly string[] =>
  frameShiftsOf(gridOf(code), place, epochYear).map(({ name, source }) => `${name}, ${source}`);

describe('frameShiftsOf', () => {
  it('gives the published operations of the frame that hold at the place, and leaves out a shift of nothing', () => {
    expect(names('EPSG:2049')).toEqual(['Cape, EPSG:1504']);
    expect(names('EPSG:2049', { latitudeDeg: 48, longitudeDeg: 21.4, ellipsoidalHeightM: 0 })).toEqual([]);
  });

  it('gives operations that change with time only with an epoch', () => {
    const place = { latitudeDeg: -37, longitudeDeg: 145, ellipsoidalHeightM: 100 };
    expect(names('EPSG:7855', place)).toEqual(['GDA94, EPSG:8048']);
    expect(names('EPSG:7855', place, 2026.3)).toEqual(['GDA94, EPSG:8048', 'ITRF2014, EPSG:8049']);
  });

  it('gives none for a system that no operation knows and that states none itself', () => {
    expect(names('+proj=tmerc +lon_0=21 +ellps=bessel')).toEqual([]);
    expect(names('+proj=tmerc +lon_0=21 +ellps=bessel +towgs84=600,100,400')).toEqual([
      'WGS 84, the definition of the system',
    ]);
  });

  it('makes the same projection on the other ellipsoid, and none where the two ellipsoids are one', () => {
    const [bessel] = frameShiftsOf(gridOf('+proj=tmerc +lon_0=21 +ellps=bessel +towgs84=600,100,400'), KAROO, null);
    const [own, other] = [
      { first: NaN, second: NaN },
      { first: NaN, second: NaN },
    ];
    expect(bessel?.grid?.forward(-31.5, 21.4, other)).toBe('ok');
    gridOf('+proj=tmerc +lon_0=21 +ellps=WGS84').forward(-31.5, 21.4, own);
    expect(Math.hypot(other.first - own.first, other.second - own.second)).toBeLessThan(1e-6);
    const [same] = frameShiftsOf(gridOf('+proj=tmerc +lon_0=21 +ellps=WGS84 +towgs84=600,100,400'), KAROO, null);
    expect(same?.grid).toBeNull();
  });

  it('gives all seven parameters that the definition of the system states', () => {
    const [shift] = frameShiftsOf(
      gridOf('EPSG:31256'),
      { latitudeDeg: 48, longitudeDeg: 16, ellipsoidalHeightM: 0 },
      null,
    );
    expect([shift?.name, shift?.source]).toEqual(['WGS 84', 'the definition of the system']);
    // PROJ 9.1.1, cct: cart +ellps=bessel, helmert +exact with these numbers and +convention=position_vector, inverse cart +ellps=WGS84, of 16 48 0.
    const at = geodeticToGeocentric(
      { latitudeDeg: 48, longitudeDeg: 16, ellipsoidalHeightM: 0 },
      gridOf('EPSG:31256').base.ellipsoid,
    );
    const out = { xM: 0, yM: 0, zM: 0 };
    shift?.toOther(at.xM, at.yM, at.zM, out);
    const there = geocentricToGeodetic(out, shift?.ellipsoid ?? gridOf('EPSG:31256').base.ellipsoid);
    expect(there.latitudeDeg).toBeCloseTo(47.999510898, 8);
    expect(there.longitudeDeg).toBeCloseTo(15.9988622511, 8);
    expect(there.ellipsoidalHeightM).toBeCloseTo(44.9725481076, 4);
    shift?.toOwn(out.xM, out.yM, out.zM, out);
    expect(Math.hypot(out.xM - at.xM, out.yM - at.yM, out.zM - at.zM)).toBeLessThan(0.01);
  });
});
