import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToLocal, localFrameAt } from '../../../src/core/ellipsoid/local-frame.js';
import { poleCovariance } from '../../../src/core/observation/uncertainty/pole-covariance.js';
import { reducePole } from '../../../src/core/observation/pole-reduction.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const ZERO_SIGMAS = { poleSigmaM: 0, plumbSigmaDeg: 0, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 };
const place = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 };
const frame = localFrameAt(place.latitudeDeg, place.longitudeDeg);
const top = geodeticToGeocentric(place, WGS84);

describe('reducePole', () => {
  it('lowers a plumb pole along the ellipsoid normal by its length', () => {
    const { tip, leverUpM } = reducePole(top, frame, {
      lengthM: 2.085,
      tiltDeg: null,
      tiltAzimuthDeg: null,
      convention: null,
    });
    const down = geocentricToGeodetic(tip, WGS84);
    expect(down.ellipsoidalHeightM).toBeCloseTo(1043.2 - 2.085, 8);
    expect(down.latitudeDeg).toBeCloseTo(-31.5, 12);
    expect(down.longitudeDeg).toBeCloseTo(21.4, 12);
    expect(leverUpM).toBe(-2.085);
  });

  it('puts the tip west of a top that leans east of its tip', () => {
    const lean = { lengthM: 2, tiltDeg: 15, tiltAzimuthDeg: 90 } as const;
    const fromTip = reducePole(top, frame, { ...lean, convention: 'top-from-tip' });
    expect(fromTip.leverEastM).toBeCloseTo(-0.517638, 6);
    expect(fromTip.leverNorthM).toBeCloseTo(0, 12);
    expect(fromTip.leverUpM).toBeCloseTo(-1.931852, 6);
    const fromTop = reducePole(top, frame, { ...lean, convention: 'tip-from-top' });
    expect(fromTop.leverEastM).toBeCloseTo(0.517638, 6);
  });

  it('reads a lean without an azimuth as towards north, and one without a convention as the top seen from the tip', () => {
    const bare = reducePole(top, frame, { lengthM: 2, tiltDeg: 15, tiltAzimuthDeg: null, convention: null });
    const north = reducePole(top, frame, { lengthM: 2, tiltDeg: 15, tiltAzimuthDeg: 0, convention: 'top-from-tip' });
    expect(bare).toEqual(north);
    expect(bare.leverNorthM).toBeCloseTo(-0.517638, 6);
  });

  it('carries the lever arm unchanged into geocentric axes, and keeps the length of the pole', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: 0, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        (latitudeDeg, longitudeDeg, tiltDeg, tiltAzimuthDeg) => {
          const at = localFrameAt(latitudeDeg, longitudeDeg);
          const high = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: 100 }, WGS84);
          const { tip, leverEastM, leverNorthM, leverUpM } = reducePole(high, at, {
            lengthM: 2,
            tiltDeg,
            tiltAzimuthDeg,
            convention: 'top-from-tip',
          });
          const back = geocentricToLocal(at, { xM: tip.xM - high.xM, yM: tip.yM - high.yM, zM: tip.zM - high.zM });
          expect(Math.abs(back.eastM - leverEastM)).toBeLessThan(4e-9);
          expect(Math.abs(back.northM - leverNorthM)).toBeLessThan(4e-9);
          expect(Math.abs(back.upM - leverUpM)).toBeLessThan(4e-9);
          expect(Math.hypot(leverEastM, leverNorthM, leverUpM)).toBeCloseTo(2, 12);
        },
      ),
    );
  });

  for (const row of readReferenceTable('pole')) {
    it(`agrees with the table: ${row.case}`, () => {
      const lengthM = row.number('length_m');
      const tiltDeg = row.number('tilt_deg');
      const pole = { lengthM, tiltDeg, tiltAzimuthDeg: 0, convention: 'top-from-tip' } as const;
      const moved = reducePole(top, frame, pole);
      const c = poleCovariance(pole, {
        ...ZERO_SIGMAS,
        tiltSigmaDeg: row.numberOrNull('sigma_tilt_deg') ?? 0,
        tiltAzimuthSigmaDeg: row.numberOrNull('sigma_azimuth_deg') ?? 0,
      });
      const values: Readonly<Record<string, number>> = {
        'horizontal-shift': Math.hypot(moved.leverEastM, moved.leverNorthM),
        'height-drop': lengthM + moved.leverUpM,
        radial: Math.sqrt(c.nnM2),
        tangential: Math.sqrt(c.eeM2),
        drms: Math.sqrt(c.eeM2 + c.nnM2),
        up: Math.sqrt(c.uuM2),
      };
      const value = (values[row.text('quantity')] ?? NaN) * 1000;
      expect(Math.abs(value - row.number('expected_mm'))).toBeLessThanOrEqual(row.tolerance);
    });
  }
});

describe('poleCovariance', () => {
  it('gives an unmeasured lean to both horizontal axes and the length to the height', () => {
    const c = poleCovariance(
      { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
      { ...ZERO_SIGMAS, poleSigmaM: 0.001, plumbSigmaDeg: 0.1 },
    );
    expect(Math.sqrt(c.eeM2)).toBeCloseTo(0.00349066, 8);
    expect(c.nnM2).toBe(c.eeM2);
    expect(c.enM2).toBe(0);
    expect(Math.sqrt(c.uuM2)).toBeCloseTo(0.001, 12);
  });

  it('is the propagation of the lever arm for any lean, by numerical differences', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 60, noNaN: true }),
        fc.double({ min: 0, max: 360, noNaN: true }),
        (tiltDeg, tiltAzimuthDeg) => {
          const sigmas = { poleSigmaM: 0.002, plumbSigmaDeg: 9, tiltSigmaDeg: 0.3, tiltAzimuthSigmaDeg: 1 };
          const lever = (lengthM: number, tilt: number, azimuth: number): readonly [number, number, number] => {
            const r = reducePole(top, frame, {
              lengthM,
              tiltDeg: tilt,
              tiltAzimuthDeg: azimuth,
              convention: 'top-from-tip',
            });
            return [r.leverEastM, r.leverNorthM, r.leverUpM];
          };
          const h = 1e-3;
          const difference = (
            plus: readonly [number, number, number],
            minus: readonly [number, number, number],
            sigma: number,
          ): readonly [number, number, number] => [
            ((plus[0] - minus[0]) / (2 * h)) * sigma,
            ((plus[1] - minus[1]) / (2 * h)) * sigma,
            ((plus[2] - minus[2]) / (2 * h)) * sigma,
          ];
          const columns = [
            difference(lever(2 + h, tiltDeg, tiltAzimuthDeg), lever(2 - h, tiltDeg, tiltAzimuthDeg), 0.002),
            difference(lever(2, tiltDeg + h, tiltAzimuthDeg), lever(2, tiltDeg - h, tiltAzimuthDeg), 0.3),
            difference(lever(2, tiltDeg, tiltAzimuthDeg + h), lever(2, tiltDeg, tiltAzimuthDeg - h), 1),
          ];
          const sum = (i: 0 | 1 | 2, j: 0 | 1 | 2): number => columns.reduce((s, c) => s + c[i] * c[j], 0);
          const c = poleCovariance({ lengthM: 2, tiltDeg, tiltAzimuthDeg, convention: 'top-from-tip' }, sigmas);
          const pairs = [
            [c.eeM2, sum(0, 0)],
            [c.enM2, sum(0, 1)],
            [c.euM2, sum(0, 2)],
            [c.nnM2, sum(1, 1)],
            [c.nuM2, sum(1, 2)],
            [c.uuM2, sum(2, 2)],
          ] as const;
          for (const [ours, other] of pairs) expect(Math.abs(ours - other)).toBeLessThan(1e-11);
        },
      ),
    );
  });

  it('spreads the sigma of a measured tilt of 0 without azimuth over both axes, and not that of a pole held plumb', () => {
    const sigmas = { poleSigmaM: 0.002, plumbSigmaDeg: 0.5, tiltSigmaDeg: 0.1, tiltAzimuthSigmaDeg: 2 };
    const level = poleCovariance({ lengthM: 2, tiltDeg: 0, tiltAzimuthDeg: null, convention: null }, sigmas);
    expect(Math.sqrt(level.eeM2)).toBeCloseTo((2 * 0.1 * Math.PI) / 180, 12);
    expect(level.nnM2).toBe(level.eeM2);
    expect(level.uuM2).toBe(0.002 * 0.002);
    const plumb = poleCovariance({ lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null }, sigmas);
    expect(Math.sqrt(plumb.eeM2)).toBeCloseTo((2 * 0.5 * Math.PI) / 180, 12);
  });
});
