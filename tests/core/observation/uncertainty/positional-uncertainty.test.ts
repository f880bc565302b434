import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactCircleFactor95 } from '../../../../src/core/observation/uncertainty/circle-factor.js';
import {
  ZERO_COVARIANCE,
  covarianceFromSigmas,
} from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { positionalUncertainty } from '../../../../src/core/observation/uncertainty/positional-uncertainty.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

/** Probability inside a circle of radius r, by the mid-point rule over the parameter angle. */
function probability(radius: number, axisRatio: number): number {
  const steps = 4000;
  let sum = 0;
  for (let i = 0; i < steps; i += 1) {
    const t = ((i + 0.5) * Math.PI) / (2 * steps);
    sum += Math.exp(-(radius ** 2) / (2 * (Math.cos(t) ** 2 + axisRatio ** 2 * Math.sin(t) ** 2)));
  }
  return 1 - sum / steps;
}

function valueOf(row: ReferenceRow): number {
  const ratio = row.numberOrNull('axis_ratio') ?? 0;
  const covariance = {
    ...ZERO_COVARIANCE,
    eeM2: row.numberOrNull('ee_mm2') ?? 0,
    enM2: row.numberOrNull('en_mm2') ?? 0,
    nnM2: row.numberOrNull('nn_mm2') ?? 0,
  };
  switch (row.text('quantity')) {
    case 'circle-exact':
      return exactCircleFactor95(ratio);
    case 'vertical':
      return positionalUncertainty({ ...ZERO_COVARIANCE, uuM2: row.number('nn_mm2') }, null).vertical95M;
    case 'ellipse-major':
      return positionalUncertainty(covariance, null).ellipseMajor95M;
    case 'ellipse-minor':
      return positionalUncertainty(covariance, null).ellipseMinor95M;
    case 'ellipse-azimuth':
      return positionalUncertainty(covariance, null).ellipseAzimuthDeg;
    default:
      throw new Error(row.text('quantity'));
  }
}

describe('95 % figures', () => {
  for (const row of readReferenceTable('positional-uncertainty')) {
    it(`agree with the table: ${row.case}`, () => {
      expect(Math.abs(valueOf(row) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    });
  }
});

describe('exactCircleFactor95', () => {
  it('holds 95 % within 1e-7 of probability for every ratio of axes, by direct integration', () => {
    for (let i = 0; i <= 200; i += 1) {
      expect(Math.abs(probability(exactCircleFactor95(i / 200), i / 200) - 0.95)).toBeLessThan(1e-7);
    }
  });
});

describe('positionalUncertainty', () => {
  it('holds 95 % of simulated errors in the circle, the ellipse and the height interval', () => {
    const random = seededRandom(19);
    const c = covarianceFromSigmas(0.02, 0.011, 0.03, 0.6);
    const u = positionalUncertainty(c, 0.0016);
    const axis = (u.ellipseAzimuthDeg * Math.PI) / 180;
    const runs = 40_000;
    const inside = { circle: 0, ellipse: 0, vertical: 0 };
    for (let run = 0; run < runs; run += 1) {
      const a = random.normal();
      const east = 0.02 * a;
      const north = 0.011 * (0.6 * a + 0.8 * random.normal());
      const along = east * Math.sin(axis) + north * Math.cos(axis);
      const across = east * Math.cos(axis) - north * Math.sin(axis);
      if (Math.hypot(east, north) <= u.circle95M) inside.circle += 1;
      if ((along / u.ellipseMajor95M) ** 2 + (across / u.ellipseMinor95M) ** 2 <= 1) inside.ellipse += 1;
      if (Math.abs(0.05 * random.normal()) <= u.vertical95M) inside.vertical += 1;
    }
    const tolerance = 4 * Math.sqrt((0.95 * 0.05) / runs);
    for (const count of Object.values(inside)) expect(Math.abs(count / runs - 0.95)).toBeLessThan(tolerance);
  });

  it('keeps the azimuth within 0 to 180, and the circle between the larger axis and 1.96/2.4477 of it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (east, north, correlation) => {
          const u = positionalUncertainty(covarianceFromSigmas(east, north, 0, correlation), null);
          expect(u.ellipseAzimuthDeg).toBeGreaterThanOrEqual(0);
          expect(u.ellipseAzimuthDeg).toBeLessThan(180);
          expect(u.ellipseMinor95M).toBeLessThanOrEqual(u.ellipseMajor95M);
          expect(u.circle95M).toBeLessThanOrEqual(u.ellipseMajor95M * (1 + 1e-8));
          expect(u.circle95M).toBeGreaterThanOrEqual(u.ellipseMajor95M * 0.8007);
        },
      ),
    );
  });

  it('of nothing is nothing', () => {
    expect(positionalUncertainty(ZERO_COVARIANCE, null)).toEqual({
      ellipseMajor95M: 0,
      ellipseMinor95M: 0,
      ellipseAzimuthDeg: 0,
      circle95M: 0,
      vertical95M: 0,
    });
  });
});
