import { describe, expect, it } from 'vitest';
import type { CauseDay, CausePoint } from '../../../../../src/core/quality/cause/cause-day.js';
import { systemCauses } from '../../../../../src/core/quality/cause/hypotheses/system-causes.js';
import { fitWhitened } from '../../../../../src/core/quality/cause/whitener.js';
import { causeContext, causePoint, formOf, formsOf, readOf } from './a-day.js';

// The turn is that of the triangle 3, 4, 5, so that every value can be worked by hand.

const KNOWN: readonly (readonly [number, number])[] = [
  [1000, 2000],
  [1300, 2000],
  [1300, 2400],
  [1000, 2400],
];
const pointsOf = (
  residual: (east: number, north: number) => readonly [number, number],
  known: readonly (readonly [number, number])[] = KNOWN,
): readonly CausePoint[] =>
  known.map(([east, north], index) => {
    const [eastM, northM] = residual(east, north);
    return causePoint(`K${String(index)}`, {
      ...{ knownFirstM: east, knownSecondM: north, eastM, northM },
      convergenceDeg: index / 10,
    });
  });
const modelsOf = (points: readonly CausePoint[], change: Partial<CauseDay> = {}) =>
  systemCauses(causeContext(points, change));
/** The sizes that least squares gives the only form of a system of its own. */
function fitted(points: readonly CausePoint[], change: Partial<CauseDay> = {}): readonly number[] {
  const [model] = formsOf(modelsOf(points, change), 'site-system');
  const fit = fitWhitened(causeContext(points, change).values, model?.columns ?? []);
  expect(fit?.chiSquare).toBeCloseTo(0, 6);
  return fit?.estimates ?? [];
}

describe('digits left off', () => {
  const shortened = (points: readonly CausePoint[], change: Partial<CauseDay> = {}) =>
    formsOf(modelsOf(points, change), 'shortened');

  it('are one constant of whole thousands, the rest of the residual left over', () => {
    const models = shortened(pointsOf((east) => [300_000 + east / 1e5, 6_400_000.4]));
    expect(models.map(({ subject }) => subject)).toEqual(['one constant']);
    const model = formOf(models, 'one constant');
    expect([...(model.fixed ?? [])].slice(0, 3)).toEqual([300_000, 6_400_000, 0]);
    expect(readOf(model, [])).toEqual({ east: 300_000, north: 6_400_000 });
    expect(model.choices).toBe(2);
    expect(model.columns).toEqual([]);
  });

  it('are counted in the unit of the grid', () => {
    // 2,000,000 ft less on the first axis.
    const [model] = shortened(
      pointsOf(() => [609_600.01, 0]),
      { metresPerUnit: 0.3048 },
    );
    expect(readOf(model as never, [])).toEqual({ east: 609_600, north: 0 });
  });

  it('are of each point its own where its hundred thousands are left off, of every point or of none', () => {
    const across = [
      [99_900, 2000],
      [100_100, 2000],
      [200_300, 2400],
    ] as const;
    const models = shortened(pointsOf((east) => [Math.round(1 + east / 1e5) * 1e5 + 0.02, 0.03], across));
    expect(models.map(({ subject }) => subject)).toEqual(['leading digits, of each point its own']);
    expect([...(models[0]?.fixed ?? [])]).toEqual([200_000, 0, 0, 200_000, 0, 0, 300_000, 0, 0]);
    expect(readOf(models[0] as never, [])).toEqual({});
    // One point alone that is a hundred kilometres off is a slip of that point.
    expect(shortened(pointsOf((east) => [east < 1200 ? 100_000 : 0, 0]))).toEqual([]);
  });

  it('are not sought of residuals below half a thousand, nor without a plan', () => {
    expect(shortened(pointsOf(() => [499, -499]))).toEqual([]);
    expect(modelsOf([causePoint('A', { eastM: null, northM: null })])).toEqual([]);
  });
});

describe('a plane system of its own', () => {
  it('is any shift, turn and stretch at once', () => {
    // Turned by asin(0.6), twice as long, and shifted: known (x, y) from the middle goes to 2 (0.8 x − 0.6 y, 0.6 x + 0.8 y) + (7, −5).
    const [east, north, a, b] = fitted(
      pointsOf((first, second) => {
        const [x, y] = [first - 1150, second - 2200];
        return [2 * (0.8 * x - 0.6 * y) + 7 - x, 2 * (0.6 * x + 0.8 * y) - 5 - y];
      }),
    );
    expect([east, north]).toEqual([expect.closeTo(7, 6), expect.closeTo(-5, 6)]);
    expect([a, b]).toEqual([expect.closeTo(0.6e6, 3), expect.closeTo(1.2e6, 3)]);
    const [model] = formsOf(modelsOf(pointsOf(() => [0, 0])), 'site-system');
    expect(readOf(model as never, [7, -5, 0.6e6, 1.2e6])).toEqual({
      turn: expect.closeTo(36.86989765, 8) as unknown,
      scale: expect.closeTo(1e6, 6) as unknown,
      ...{ east: 7, north: -5 },
      convergence_here: expect.closeTo(0.15, 12) as unknown,
    });
    const sigmas = model?.read([7, -5, 0.6e6, 1.2e6], [1, 2, 3, 4])?.map(({ sigma }) => sigma);
    // 4 ppm across a length of 2 turn by 2 millionths of a radian.
    expect(sigmas).toEqual([expect.closeTo(2e-6 * (180 / Math.PI), 15), 3, 1, 2, null]);
  });

  it('turns from east to north also where the axes count west and south', () => {
    const change: Partial<CauseDay> = { axisSigns: [-1, -1] };
    const [, , a, b] = fitted(
      pointsOf((first, second) => [1e-4 * (second - 2200), -1e-4 * (first - 1150)]),
      change,
    );
    expect([a, b]).toEqual([expect.closeTo(0, 6), expect.closeTo(100, 6)]);
  });

  it('is told of a significant turn, of a stretch of more than 20 ppm, or of a shift of more than 50 m', () => {
    const [model] = formsOf(modelsOf(pointsOf(() => [0, 0])), 'site-system');
    const isTold = (sizes: readonly number[], sigmas = [0.01, 0.01, 1, 1]) =>
      readOf(model as never, sizes, sigmas) !== null;
    expect(isTold([0.2, 0.1, 0, 2.9])).toBe(false);
    expect(isTold([0.2, 0.1, 0, -3.1])).toBe(true);
    expect(isTold([0, 0, 19, 0])).toBe(false);
    expect(isTold([0, 0, -21, 0])).toBe(true);
    expect(isTold([0, 0, 21, 0], [0.01, 0.01, 8, 8])).toBe(false);
    expect(isTold([49.9, 0, 0, 0])).toBe(false);
    expect(isTold([30, -41, 0, 0])).toBe(true);
  });

  it('needs three points whose pair is known', () => {
    expect(formsOf(modelsOf(pointsOf(() => [0, 0]).slice(0, 2)), 'site-system')).toEqual([]);
    expect(formsOf(modelsOf(pointsOf(() => [0, 0]).slice(0, 3)), 'site-system')).toHaveLength(1);
    const [first, ...others] = pointsOf(() => [0, 0]);
    expect(formsOf(modelsOf([{ ...(first as CausePoint), knownFirstM: null }, ...others]), 'site-system')).toEqual([]);
    // Occupations of one point are one.
    expect(
      formsOf(
        modelsOf([...pointsOf(() => [0, 0]).slice(0, 2), pointsOf(() => [0, 0])[0] as CausePoint]),
        'site-system',
      ),
    ).toEqual([]);
  });
});
