import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../src/core/ellipsoid/geocentric.js';
import { platePole } from '../../../src/core/frames/plates/plate-pole.js';
import { applyShift } from '../../../src/core/frames/shifts/shift-apply.js';
import { everywhere } from '../../../src/core/frames/grids/way-in-space.js';
import { createShiftFunction } from '../../../src/core/frames/shifts/shift-function.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../src/records/points/point.js';
import type { BaseCoordinate, BaseSettings } from '../../../src/records/session.js';
import { prepareBases } from '../../../src/tasks/bases/prepare-bases.js';
import type { PreparedBase } from '../../../src/tasks/bases/prepare-bases.js';
import { toNationalPoint } from '../../../src/tasks/reduce/reduction-shift.js';
import type { NationalPoint, ReductionShift } from '../../../src/tasks/reduce/reduction-shift.js';
import { plateShift } from '../../support/plate-shift.js';
import { readReferenceTable } from '../../support/read-reference-table.js';
import { apartM, valueOf } from '../../support/shift-of-row.js';

const NATIONAL: GeodeticPoint = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1041.9 };
const NATIONAL_XYZ = geodeticToGeocentric(NATIONAL, GRS80);

function useOf(plate: string, fromYear: number, epochYear: number): ReductionShift {
  const shift = plateShift(valueOf(platePole(plate)), fromYear, 'national');
  return {
    by: { kind: 'parameters', shift, rotationForm: 'small-angle' },
    name: shift.name,
    code: null,
    accuracyM: null,
    source: null,
    direction: 'forward',
    epochYear,
    file: null,
    toNational: everywhere(valueOf(createShiftFunction(shift, epochYear, 'forward'))),
    toFixes: everywhere(valueOf(createShiftFunction(shift, epochYear, 'inverse'))),
  };
}

function geodetic(point: GeodeticPoint, frame?: 'fixes' | 'national'): BaseCoordinate {
  return { kind: 'geodetic', at: 'arp', ...point, ...(frame !== undefined && { frame }) };
}

function baseOf(broadcast: BaseCoordinate, known: BaseCoordinate | null, shift: ReductionShift): PreparedBase {
  const settings: BaseSettings = {
    id: 'B',
    fromMs: null,
    toMs: null,
    broadcast,
    known,
    antennaHeight: null,
    phaseCentreOffsetM: 0,
    sigmaHorizontalM: null,
    sigmaVerticalM: null,
    antennaHeightSigmaM: null,
    centringSigmaM: null,
  };
  const [base] = valueOf(
    prepareBases([settings], { ellipsoid: GRS80, fixesEllipsoid: GRS80, grid: null, geoid: null, shift }),
  );
  if (base === undefined) throw new Error('no base');
  return base;
}

const plus = (a: GeocentricPoint, b: GeocentricPoint): GeocentricPoint => ({
  xM: a.xM + b.xM,
  yM: a.yM + b.yM,
  zM: a.zM + b.zM,
});

/** A point as the receiver gave it, corrected for its base and taken to the national frame. */
function reduced(fix: GeocentricPoint, base: PreparedBase, use: ReductionShift): NationalPoint {
  const tip = base.correction === null ? fix : plus(fix, base.correction.translation);
  const found = toNationalPoint(tip, base.frameReduction, use);
  if (found === null) throw new Error('parameters lead everywhere');
  return found;
}

const NUBIAN = useOf('NUBI', 1994, 2026.9);
const NUBIAN_SHIFT = plateShift(valueOf(platePole('NUBI')), 1994, 'national');

describe('a base in the frame of the satellites', () => {
  it('returns to its national coordinate when it had broadcast that', () => {
    const base = baseOf(geodetic(NATIONAL, 'national'), null, NUBIAN);
    expect(base.arpGeodetic).toEqual(NATIONAL);
    expect(apartM(reduced(base.broadcastArp, base, NUBIAN).national, NATIONAL_XYZ)).toBeLessThan(2e-9);
  });

  it('returns to it whatever it had broadcast', () => {
    for (const height of [0, 1043.2, 1100]) {
      const base = baseOf(
        geodetic({ latitudeDeg: -31.49, longitudeDeg: 21.41, ellipsoidalHeightM: height }),
        geodetic(NATIONAL),
        NUBIAN,
      );
      expect(apartM(reduced(base.broadcastArp, base, NUBIAN).national, NATIONAL_XYZ)).toBeLessThan(2e-9);
    }
  });

  it('gives one answer whether the national coordinate is broadcast, known, or known in the frame of the fixes', () => {
    const orbit = geocentricToGeodetic(valueOf(applyShift(NUBIAN_SHIFT, NATIONAL_XYZ, 2026.9, 'inverse')), GRS80);
    const fix = geodeticToGeocentric({ latitudeDeg: -31.0, longitudeDeg: 21.5, ellipsoidalHeightM: 1100 }, GRS80);
    const answers = [
      baseOf(geodetic(NATIONAL, 'national'), null, NUBIAN),
      baseOf(geodetic(NATIONAL), geodetic(NATIONAL), NUBIAN),
      baseOf(geodetic(NATIONAL), geodetic(orbit, 'fixes'), NUBIAN),
    ].map((base) => reduced(fix, base, NUBIAN).national);
    for (const answer of answers) expect(apartM(answer, answers[0] as GeocentricPoint)).toBeLessThan(2e-8);
  });

  it('is the shift itself where the broadcast coordinate was right in the frame of the fixes', () => {
    const orbit = geocentricToGeodetic(valueOf(applyShift(NUBIAN_SHIFT, NATIONAL_XYZ, 2026.9, 'inverse')), GRS80);
    const base = baseOf(geodetic(orbit), null, NUBIAN);
    const fix = geodeticToGeocentric({ latitudeDeg: -31.0, longitudeDeg: 21.5, ellipsoidalHeightM: 1100 }, GRS80);
    expect(
      apartM(reduced(fix, base, NUBIAN).national, valueOf(applyShift(NUBIAN_SHIFT, fix, 2026.9, 'forward'))),
    ).toBeLessThan(2e-8);
  });

  const turns = readReferenceTable('plates').filter((row) => row.text('turn_mm') !== '');
  it.each(turns.map((row) => [row.case, row] as const))(
    '%s: a rover square to the pole differs from the naive result by the whole turn',
    (_, row) => {
      const use = useOf(row.text('plate'), row.number('from_year'), row.number('to_year'));
      const base = baseOf(geodetic(NATIONAL, 'national'), null, use);
      const pole = valueOf(platePole(row.text('plate')));
      const [x, y] = [pole.omegaXMasPerYear, pole.omegaYMasPerYear];
      // A vector square to the pole, as long as the baseline of the row.
      const length = Math.hypot(x, y);
      const across = {
        xM: (-y / length) * row.number('baseline_m'),
        yM: (x / length) * row.number('baseline_m'),
        zM: 0,
      };
      const difference = reduced(plus(base.broadcastArp, across), base, use).differenceM ?? Number.NaN;
      expect(Math.abs(difference * 1000 - row.number('turn_mm'))).toBeLessThanOrEqual(row.tolerance);
    },
  );
});
