import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../../src/core/ellipsoid/local-frame.js';
import { gaussRadiusM } from '../../../src/core/ellipsoid/radii.js';
import {
  baseCorrection,
  irreducibleResidualM,
  shortcutErrorM,
  translate,
} from '../../../src/core/observation/base-correction.js';
import { readReferenceTable } from '../../support/read-reference-table.js';

const geodesic = createGeodesic(WGS84);

describe('baseCorrection', () => {
  it('moves the base itself exactly onto its known position, and back with the positions exchanged', () => {
    const frame = localFrameAt(-31.5, 21.4);
    const broadcastArp = geodeticToGeocentric(
      { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 },
      WGS84,
    );
    const knownArp = geodeticToGeocentric(
      { latitudeDeg: -31.50001, longitudeDeg: 21.40002, ellipsoidalHeightM: 1041.9 },
      WGS84,
    );
    const there = baseCorrection({ broadcastArp, knownArp }, frame);
    const moved = translate(broadcastArp, there.translation);
    expect(Math.hypot(moved.xM - knownArp.xM, moved.yM - knownArp.yM, moved.zM - knownArp.zM)).toBeLessThan(2e-9);
    const back = baseCorrection({ broadcastArp: knownArp, knownArp: broadcastArp }, frame);
    expect(translate(moved, back.translation).xM).toBeCloseTo(broadcastArp.xM, 8);
    expect(there.magnitudeM).toBeCloseTo(Math.hypot(there.local.eastM, there.local.northM, there.local.upM), 9);
  });

  it('shows a base that was too high as a correction downwards', () => {
    const at = { latitudeDeg: 45, longitudeDeg: 7 };
    const { local } = baseCorrection(
      {
        broadcastArp: geodeticToGeocentric({ ...at, ellipsoidalHeightM: 101 }, WGS84),
        knownArp: geodeticToGeocentric({ ...at, ellipsoidalHeightM: 100 }, WGS84),
      },
      localFrameAt(45, 7),
    );
    expect(local.upM).toBeCloseTo(-1, 8);
    expect(local.eastM).toBeCloseTo(0, 8);
  });
});

describe('shortcutErrorM and irreducibleResidualM', () => {
  for (const row of readReferenceTable('base-correction')) {
    it(`agree with the table: ${row.case}`, () => {
      const latitudeDeg = row.number('latitude_deg');
      const baselineM = row.number('baseline_m');
      const deltaM = row.number('delta_m');
      let valueMm = NaN;
      if (row.text('quantity') === 'shortcut') {
        valueMm = shortcutErrorM(deltaM, baselineM, latitudeDeg, gaussRadiusM(WGS84, latitudeDeg)) * 1000;
      } else if (row.text('quantity') === 'height-error') {
        const rover = geodesic.direct(latitudeDeg, 0, 70, baselineM);
        const delta = localToGeocentric(localFrameAt(latitudeDeg, 0), { eastM: 0, northM: 0, upM: deltaM });
        const there = geocentricToLocal(localFrameAt(rover.latitudeDeg, rover.longitudeDeg), delta);
        valueMm = Math.hypot(there.eastM, there.northM) * 1000;
      } else {
        valueMm = irreducibleResidualM(deltaM, baselineM) * 1000;
      }
      expect(Math.abs(valueMm - row.number('expected_mm'))).toBeLessThanOrEqual(row.tolerance);
    });
  }

  it('put the residual at 3.8 mm for a metre at 60 km, and never below the published rule of 1 ppm for 20 m', () => {
    expect(irreducibleResidualM(1, 60_000)).toBeCloseTo(0.00378, 10);
    expect(irreducibleResidualM(20, 60_000)).toBeGreaterThanOrEqual(1e-6 * 60_000);
  });

  it('name no more than twice the base error, even at a pole', () => {
    expect(shortcutErrorM(3, 60_000, 90, 6_400_000)).toBe(6);
    expect(shortcutErrorM(3, 60_000, -89.9999, 6_400_000)).toBe(6);
    expect(shortcutErrorM(0, 60_000, 45, 6_380_000)).toBe(0);
  });

  it('cover what adding local differences at the rover really costs, in every direction', () => {
    const frame = localFrameAt(60, 10);
    for (let azimuthDeg = 0; azimuthDeg < 360; azimuthDeg += 15) {
      const rover = geodesic.direct(60, 10, azimuthDeg, 60_000);
      const there = localFrameAt(rover.latitudeDeg, rover.longitudeDeg);
      for (const [eastM, northM, upM] of [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
        [0.6, 0, 0.8],
      ] as const) {
        const right = localToGeocentric(frame, { eastM, northM, upM });
        const wrong = localToGeocentric(there, { eastM, northM, upM });
        const error = Math.hypot(right.xM - wrong.xM, right.yM - wrong.yM, right.zM - wrong.zM);
        const named = shortcutErrorM(1, 60_000, 60, gaussRadiusM(WGS84, 60));
        expect(error).toBeLessThanOrEqual(named * 1.005);
      }
    }
  });
});
