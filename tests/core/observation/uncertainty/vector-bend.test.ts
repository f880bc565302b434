import { describe, expect, it } from 'vitest';
import {
  bendCovariance,
  bendMatters,
  bendMattersFromM,
  greatestBend,
  vectorBend,
} from '../../../../src/core/observation/uncertainty/vector-bend.js';
import { diagonalCovariance } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { irreducibleResidualM } from '../../../../src/core/observation/base-correction.js';
import { simulatedBends } from '../../../support/simulated-bend.js';

const D = 60_000;

describe('vectorBend', () => {
  it('agrees with a simulated sky of its own, axis by axis', () => {
    // Computed here from satellite geometry, not by the formula: root mean square over a day at four latitudes and six azimuths.
    const rms = simulatedBends([0, 25, -31, 52], [0, 60, 120, 180, 240, 300], 50_000);
    const of = (alongM: number, acrossM: number, upM: number): ReturnType<typeof vectorBend> =>
      vectorBend({ eastM: acrossM, northM: alongM, upM }, 1e6, 0);
    for (const [axis, error] of [
      ['along', of(1, 0, 0)],
      ['across', of(0, 1, 0)],
      ['up', of(0, 0, 1)],
    ] as const) {
      for (const part of ['along', 'across', 'up'] as const) {
        const stated = error[`${part}M`];
        const found = rms[axis][part];
        expect(Math.abs(stated - found), `${part} by ${axis}: stated ${stated}, found ${found}`).toBeLessThan(0.0025);
      }
    }
  });

  it('makes vectors of a base too high shorter or longer along the line, and tilts those of a base wrong along it', () => {
    const high = vectorBend({ eastM: 0, northM: 0, upM: 10 }, D, 77);
    // 15 to 17 mm for 10 m at 60 km, computed for the design of this program from another simulated sky.
    expect(high.alongM).toBeGreaterThan(0.015);
    expect(high.alongM).toBeLessThan(0.0175);
    const along = vectorBend({ eastM: 10, northM: 0, upM: 0 }, D, 90);
    const across = vectorBend({ eastM: 10, northM: 0, upM: 0 }, D, 0);
    expect(along.upM).toBeGreaterThan(0.015);
    expect(along.upM).toBeLessThan(0.028);
    expect(across.upM).toBeLessThan(0.013);
    expect(across.upM).toBeLessThan(along.upM / 3);
  });

  it('stays below the planning limit of all directions', () => {
    for (let azimuth = 0; azimuth < 360; azimuth += 15) {
      for (const delta of [
        { eastM: 3, northM: -1, upM: 2 },
        { eastM: 0, northM: 0, upM: 5 },
        { eastM: 0.1, northM: 4, upM: 0 },
      ]) {
        const { alongM, acrossM, upM } = vectorBend(delta, D, azimuth);
        const greatest = greatestBend(delta, D);
        const length = Math.hypot(alongM, acrossM, upM);
        expect(length).toBeLessThan(irreducibleResidualM(Math.hypot(delta.eastM, delta.northM, delta.upM), D));
        expect(alongM).toBeLessThanOrEqual(greatest.alongM + 1e-15);
        expect(upM).toBeLessThanOrEqual(greatest.upM + 1e-15);
      }
    }
  });
});

describe('bendCovariance', () => {
  it('has its long axis along the baseline and the length of the bend', () => {
    const delta = { eastM: 0, northM: 0, upM: 6 };
    const { alongM, acrossM, upM } = vectorBend(delta, D, 30);
    const c = bendCovariance(delta, D, 30);
    const [sin, cos] = [0.5, Math.sqrt(0.75)];
    expect(c.eeM2 * sin * sin + 2 * c.enM2 * sin * cos + c.nnM2 * cos * cos).toBeCloseTo(alongM * alongM, 15);
    expect(c.eeM2 * cos * cos - 2 * c.enM2 * sin * cos + c.nnM2 * sin * sin).toBeCloseTo(acrossM * acrossM, 15);
    expect(c.uuM2).toBeCloseTo(upM * upM, 15);
  });

  it('is nothing where base and point coincide', () => {
    expect(bendCovariance({ eastM: 1, northM: 1, upM: 1 }, 0, null).uuM2).toBe(0);
  });
});

describe('when the bend matters', () => {
  const other = (baselineM: number): { planM2: number; upM2: number } => ({
    planM2: 2 * (36e-6 + (0.41e-6 * baselineM) ** 2),
    upM2: 144e-6 + (1e-6 * baselineM) ** 2,
  });

  it('is never for a base a few metres wrong, and from a distance on for one tens of metres wrong', () => {
    expect(bendMattersFromM({ eastM: 2, northM: 1, upM: 3 }, other)).toBeNull();
    const from = bendMattersFromM({ eastM: 0, northM: 0, upM: 30 }, other);
    expect(from).toBeGreaterThan(1000);
    expect(from).toBeLessThan(20_000);
    const at = (baselineM: number): boolean => {
      const bend = bendCovariance({ eastM: 0, northM: 0, upM: 30 }, baselineM, 12);
      const { planM2, upM2 } = other(baselineM);
      return bendMatters(bend, diagonalCovariance(planM2 / 2 + bend.eeM2, planM2 / 2 + bend.nnM2, upM2 + bend.uuM2));
    };
    expect(at((from ?? 0) + 2)).toBe(true);
    expect(at((from ?? 0) - 2)).toBe(false);
  });
});
