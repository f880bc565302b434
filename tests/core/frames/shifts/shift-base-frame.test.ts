import { describe, expect, it } from 'vitest';
import { GRS80, WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { operationByCode } from '../../../../src/core/frames/operations/operations.js';
import { platePole } from '../../../../src/core/frames/plates/plate-pole.js';
import type { PlatePole } from '../../../../src/core/frames/plates/plate-pole.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import { baseFrameReduction } from '../../../../src/core/frames/shifts/shift-base-frame.js';
import type { BaseFrameReduction } from '../../../../src/core/frames/shifts/shift-base-frame.js';
import type { GeocentricPoint } from '../../../../src/records/points/point.js';
import { plateShift } from '../../../support/plate-shift.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { apartM, valueOf } from '../../../support/shift-of-row.js';

const rows = readReferenceTable('plates')
  .filter((row) => row.text('turn_mm') !== '')
  .map((row) => ({ name: row.case, row }));

/** A point at a distance from the base, square to the pole, where the turn shows in full. */
function squareTo(pole: PlatePole, base: GeocentricPoint, distanceM: number): GeocentricPoint {
  const w = { x: pole.omegaXMasPerYear, y: pole.omegaYMasPerYear, z: pole.omegaZMasPerYear };
  const v = { x: w.y * base.zM - w.z * base.yM, y: w.z * base.xM - w.x * base.zM, z: w.x * base.yM - w.y * base.xM };
  const k = distanceM / Math.hypot(v.x, v.y, v.z);
  return { xM: base.xM + k * v.x, yM: base.yM + k * v.y, zM: base.zM + k * v.z };
}

/** What the reduction changes at a rover whose coordinate, as the receiver gave it, is taken as national. */
function changeAt(reduction: BaseFrameReduction, rover: GeocentricPoint): GeocentricPoint {
  const out = { xM: 0, yM: 0, zM: 0 };
  reduction.reduce(rover.xM, rover.yM, rover.zM, out);
  return { xM: out.xM - rover.xM, yM: out.yM - rover.yM, zM: out.zM - rover.zM };
}

const base = geodeticToGeocentric({ latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1041.9 }, WGS84);

describe('the base in the frame of the orbits', () => {
  it.each(rows)('$name: a rover 60 km away moves by the turn of the plate', ({ row }) => {
    const pole = valueOf(platePole(row.text('plate')));
    const shift = plateShift(pole, row.number('from_year'), 'national');
    const reduction = valueOf(baseFrameReduction(shift, 'forward', row.number('to_year'), base));
    const rover = squareTo(pole, base, row.number('baseline_m'));
    const { xM, yM, zM } = changeAt(reduction, rover);
    expect(Math.abs(Math.hypot(xM, yM, zM) * 1000 - row.number('turn_mm'))).toBeLessThanOrEqual(row.tolerance);
  });

  it('brings the base back to its national coordinate to the last bit', () => {
    for (const code of ['EPSG:6276', 'EPSG:8049', 'EPSG:9991']) {
      const { shift } = valueOf(operationByCode(code));
      const reduction = valueOf(baseFrameReduction(shift, 'forward', 2026.9, base));
      const out = { xM: 0, yM: 0, zM: 0 };
      reduction.reduce(base.xM, base.yM, base.zM, out);
      expect(out).toEqual(base);
    }
  });

  it('is the three steps in one: to the orbit frame, translate, and back by the same shift', () => {
    const { shift } = valueOf(operationByCode('EPSG:6276'));
    const alice = geodeticToGeocentric({ latitudeDeg: -23.67, longitudeDeg: 133.89, ellipsoidalHeightM: 603 }, GRS80);
    const rover = { xM: alice.xM + 31000, yM: alice.yM - 42000, zM: alice.zM + 28000 };
    const reduction = valueOf(baseFrameReduction(shift, 'forward', 2026.9, alice));
    const orbit = valueOf(applyShift(shift, alice, 2026.9, 'inverse'));
    expect(apartM(orbit, reduction.baseInOrbitFrame)).toBe(0);
    const moved = {
      xM: rover.xM + orbit.xM - alice.xM,
      yM: rover.yM + orbit.yM - alice.yM,
      zM: rover.zM + orbit.zM - alice.zM,
    };
    const steps = valueOf(applyShift(shift, moved, 2026.9, 'forward'));
    const out = { xM: 0, yM: 0, zM: 0 };
    reduction.reduce(rover.xM, rover.yM, rover.zM, out);
    expect(apartM(out, steps)).toBeLessThan(1e-8);
    expect(apartM(out, rover)).toBeGreaterThan(0.005);
  });

  it('does not care which way the shift is written', () => {
    const { shift } = valueOf(operationByCode('EPSG:8049'));
    const national = {
      ...shift,
      from: shift.to,
      to: shift.from,
      rates:
        shift.rates === null
          ? null
          : {
              ...shift.rates,
              rxArcsecPerYear: -shift.rates.rxArcsecPerYear,
              ryArcsecPerYear: -shift.rates.ryArcsecPerYear,
              rzArcsecPerYear: -shift.rates.rzArcsecPerYear,
            },
    };
    const rover = { xM: base.xM + 30000, yM: base.yM - 40000, zM: base.zM + 33000 };
    const one = changeAt(valueOf(baseFrameReduction(shift, 'forward', 2026.9, base)), rover);
    const other = changeAt(valueOf(baseFrameReduction(national, 'inverse', 2026.9, base)), rover);
    expect(apartM(one, other)).toBeLessThan(1e-7);
  });

  it('moves the base itself by the plate: half a metre to a metre in three decades', () => {
    const shift = plateShift(valueOf(platePole('NUBI')), 1994, 'national');
    const { translation } = valueOf(baseFrameReduction(shift, 'forward', 2026.9, base));
    const length = Math.hypot(translation.xM, translation.yM, translation.zM);
    expect(length).toBeGreaterThan(0.5);
    expect(length).toBeLessThan(0.98);
  });

  it('refuses a base that is not finite', () => {
    const outcome = baseFrameReduction(valueOf(operationByCode('EPSG:9991')).shift, 'forward', 2026.9, {
      ...base,
      xM: NaN,
    });
    expect(outcome.problems[0]?.code).toBe('value-out-of-range');
  });

  it('refuses an epoch that is no number, and a base that is none', () => {
    const { shift } = valueOf(operationByCode('EPSG:8049'));
    expect(baseFrameReduction(shift, 'forward', Number.NaN, base).problems[0]?.code).toBe('config-invalid-value');
    expect(baseFrameReduction(shift, 'forward', 2026.5, { ...base, xM: Number.NaN }).problems[0]?.code).toBe(
      'value-out-of-range',
    );
  });
});
