import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { geodeticToGeocentric } from '../../../../src/core/ellipsoid/geocentric.js';
import { operationByCode } from '../../../../src/core/frames/operations/operations.js';
import { movePoint } from '../../../../src/core/frames/plates/plate-motion.js';
import { PLATE_MODELS } from '../../../../src/core/frames/plates/plate-models.js';
import { platePole } from '../../../../src/core/frames/plates/plate-pole.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import { plateShift } from '../../../support/plate-shift.js';
import { apartM, valueOf } from '../../../support/shift-of-row.js';

describe('a plate as a shift', () => {
  it('forward takes a point of today back along its plate to the national epoch, and inverse brings it on', () => {
    const today = geodeticToGeocentric({ latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1041.9 }, WGS84);
    for (const pole of PLATE_MODELS.itrf2014.poles) {
      const shift = plateShift(pole, 1994, 'national');
      const then = movePoint(today, pole, 2026.9, 1994);
      expect(apartM(valueOf(applyShift(shift, today, 2026.9, 'forward')), then)).toBeLessThan(2e-6);
      expect(apartM(valueOf(applyShift(shift, then, 2026.9, 'inverse')), today)).toBeLessThan(2e-6);
    }
  });

  it('does nothing at the national epoch, and is refused without an epoch', () => {
    const point = { xM: 5064032.2, yM: 2724721.0, zM: -2752950.8 };
    const shift = plateShift(valueOf(platePole('NUBI')), 1994, 'national');
    expect(valueOf(applyShift(shift, point, 1994, 'forward'))).toEqual(point);
    expect(applyShift(shift, point, null, 'forward').problems[0]?.code).toBe('shift-epoch-missing');
  });

  it('for the Australian plate is EPSG 8049 to 4 mm over seven years', () => {
    const point = { xM: -4052051.7643, yM: 4212836.2017, zM: -2545106.0245 };
    const plate = plateShift(valueOf(platePole('AUST')), 2020, 'GDA2020');
    const published = valueOf(operationByCode('EPSG:8049')).shift;
    expect(
      apartM(
        valueOf(applyShift(plate, point, 2026.9, 'forward')),
        valueOf(applyShift(published, point, 2026.9, 'forward')),
      ),
    ).toBeLessThan(0.004);
  });
});
