import { describe, expect, it } from 'vitest';
import { operationByCode } from '../../../../src/core/frames/operations/operations.js';
import { applyShift } from '../../../../src/core/frames/shifts/shift-apply.js';
import { valueOf } from '../../../support/shift-of-row.js';

// The station of PROJ's test nkg.gie, ITRF2014 at 2015.0; the results by cct +proj=helmert with the parameters of the registry, whose
// last digit is 0.01 mm. The first step of the published chain to the Danish realisation is EPSG:8366.
const BUDD = { xM: 3513638.0964, yM: 778956.547, zM: 5248216.5248 };
const ROWS = [
  { code: 'EPSG:8366', xM: 3513638.52329, yM: 778956.14974, zM: 5248216.29797 },
  { code: 'EPSG:8405', xM: 3513638.5629, yM: 778956.19742, zM: 5248216.24615 },
] as const;

describe('ITRF2014 to the European realisations at a published station', () => {
  it.each(ROWS)('$code: 0.01 mm, and back within a micrometre', ({ code, xM, yM, zM }) => {
    const { shift } = valueOf(operationByCode(code));
    const there = valueOf(applyShift(shift, BUDD, 2015, 'forward'));
    expect(Math.max(Math.abs(there.xM - xM), Math.abs(there.yM - yM), Math.abs(there.zM - zM))).toBeLessThan(1e-5);
    const home = valueOf(applyShift(shift, there, 2015, 'inverse'));
    expect(
      Math.max(Math.abs(home.xM - BUDD.xM), Math.abs(home.yM - BUDD.yM), Math.abs(home.zM - BUDD.zM)),
    ).toBeLessThan(1e-6);
  });
});
