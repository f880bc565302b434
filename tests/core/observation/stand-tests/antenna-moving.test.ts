import { describe, expect, it } from 'vitest';
import { antennaMoving } from '../../../../src/core/observation/stand-tests/antenna-moving.js';

/** An antenna that scatters by 2 mm: its limits lie below the least lengths of 3 and 5 cm. */
const QUIET = { horizontalM: 0.002, verticalM: 0.002 };
const zeros = (count: number): readonly number[] => Array.from({ length: count }, () => 0);

/** Epochs a `stepS` apart; what is not given stays where it is. */
function track(stepS: number, moves: Partial<Record<'east' | 'north' | 'up', readonly number[]>>) {
  const count = (moves.east ?? moves.north ?? moves.up ?? []).length;
  return {
    timesS: Array.from({ length: count }, (_, i) => 100 + i * stepS),
    east: moves.east ?? zeros(count),
    north: moves.north ?? zeros(count),
    up: moves.up ?? zeros(count),
  };
}

/** Stands at nothing, then at `lengthM`, three epochs each of nine. */
const moved = (lengthM: number): readonly number[] => [
  0,
  0,
  0,
  lengthM / 2,
  lengthM / 2,
  lengthM / 2,
  lengthM,
  lengthM,
  lengthM,
];

describe('antennaMoving', () => {
  it('measures from the mean of the first third to that of the last, and the spread about the mean', () => {
    // By hand: the thirds are means of three, 6 s apart; the spread is that of three levels.
    const east = [0.01, 0.02, 0.03, 0.3, 0.3, 0.3, 0.61, 0.62, 0.63];
    const north = [0, 0, 0, 0.4, 0.4, 0.4, 0.8, 0.8, 0.8];
    const up = [0, 0, 0, -0.05, -0.05, -0.05, -0.1, -0.1, -0.1];
    const found = antennaMoving(track(1, { east, north, up }), QUIET);
    expect(found.displacementM).toBeCloseTo(1, 12);
    expect(found.riseM).toBeCloseTo(-0.1, 12);
    expect(found.speedMetresPerSecond).toBeCloseTo(Math.hypot(1, 0.1) / 6, 12);
    // Three values each at −a, 0 and a have a mean square of 2a²/3.
    expect(found.spreadUpM).toBeCloseTo(0.05 * Math.sqrt(2 / 3), 12);
    const about = east.map((value) => value - east.reduce((sum, one) => sum + one, 0) / 9);
    const eastM2 = about.reduce((sum, value) => sum + value * value, 0) / 9;
    expect(found.spreadM).toBeCloseTo(Math.sqrt(eastM2 + (0.4 * 0.4 * 2) / 3), 12);
    expect(found.isMoving).toBe(true);
  });

  it('takes thirds that are rounded up, so that five epochs have two in each', () => {
    const found = antennaMoving(track(1, { east: [0, 0.02, 5, 0.04, 0.1] }), QUIET);
    expect(found.displacementM).toBeCloseTo(0.06, 12);
    expect(found.speedMetresPerSecond).toBeCloseTo(0.06 / 3, 12);
  });

  it('says nothing of one epoch, and no speed where no time has passed', () => {
    expect(antennaMoving(track(1, { east: [7] }), QUIET)).toMatchObject({
      speedMetresPerSecond: null,
      isMoving: false,
    });
    const atOnce = antennaMoving(track(0, { east: [0, 0.04] }), QUIET);
    expect(atOnce).toMatchObject({ displacementM: 0.04, speedMetresPerSecond: null, isMoving: false });
    expect(antennaMoving(track(1, { east: [0, 0.04] }), QUIET)).toMatchObject({ isMoving: true });
  });

  // The least lengths and the speed of 2 cm/s: docs/methods/averaging.md, common practice, no published source.
  it.each(['east', 'north', 'up'] as const)('finds a move of more than 3 cm at more than 2 cm/s, in %s', (axis) => {
    const isMoving = (lengthM: number, stepS: number): boolean =>
      antennaMoving(track(stepS, { [axis]: moved(lengthM) }), QUIET).isMoving;
    expect(isMoving(0.031, 0.25)).toBe(true);
    expect(isMoving(-0.031, 0.25)).toBe(true);
    expect(isMoving(0.029, 0.25)).toBe(false);
    // 4 cm in 6 × 0.4 s is less than 2 cm/s, in 6 × 0.3 s more.
    expect(isMoving(0.04, 0.4)).toBe(false);
    expect(isMoving(0.04, 0.3)).toBe(true);
  });

  // 3.90 σ_d and 3.48 σ_d: Rayleigh's and the normal quantile at half of one in a thousand.
  it.each([
    ['east', 'horizontalM', 3.9],
    ['up', 'verticalM', 3.48],
  ] as const)('lets noise pass: in %s so many sigmas of the difference of two thirds', (axis, most, sigmas) => {
    const limitOf = (stepS: number, independent: number): void => {
      // Far below the spread of 5 cm and 3 sigma; the other axis is quiet.
      const sigmaM = 0.018;
      const perDifference = sigmas * sigmaM * Math.sqrt(2 / independent);
      const isMoving = (lengthM: number): boolean =>
        antennaMoving(track(stepS, { [axis]: moved(lengthM) }), { ...QUIET, [most]: sigmaM }).isMoving;
      expect(isMoving(perDifference * 0.99), `${String(independent)} independent`).toBe(false);
      expect(isMoving(perDifference * 1.01), `${String(independent)} independent`).toBe(true);
    };
    // Three epochs in 0.6 s or less share their noise; in a whole second they are two.
    limitOf(0.25, 1);
    limitOf(0.3, 1);
    limitOf(0.5, 2);
  });

  it.each([
    ['east', 'horizontalM'],
    ['north', 'horizontalM'],
    ['up', 'verticalM'],
  ] as const)('finds a walk that returns by its spread, of more than 5 cm and 3 sigma in %s', (axis, most) => {
    const walk = (lengthM: number): readonly number[] => [lengthM, -lengthM, lengthM, -lengthM, lengthM, -lengthM];
    const isMoving = (lengthM: number, sigmaM: number): boolean =>
      antennaMoving(track(10, { [axis]: walk(lengthM) }), { ...QUIET, [most]: sigmaM }).isMoving;
    expect(isMoving(0.0501, 0.002)).toBe(true);
    expect(isMoving(0.0499, 0.002)).toBe(false);
    expect(isMoving(0.0899, 0.03)).toBe(false);
    expect(isMoving(0.0901, 0.03)).toBe(true);
  });
});
