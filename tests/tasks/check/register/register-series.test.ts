import { describe, expect, it } from 'vitest';
import type { RegisterAxis } from '../../../../src/records/reports/register-report.js';
import type { GatheredRegister } from '../../../../src/tasks/check/register/gather-register.js';
import { axisSeries, registerBases } from '../../../../src/tasks/check/register/register-series-of.js';
import { setUpResidual } from '../../../../src/tasks/check/register/seen-marks.js';
import type { SeenMark } from '../../../../src/tasks/check/register/seen-marks.js';

const close = (value: number, digits = 9): unknown => expect.closeTo(value, digits);
const part = (horizontalM: number, verticalM: number): object => ({ horizontalM, verticalM });
const base = (key: string, own: object = {}): object => ({
  settings: { day: 'monday', ...own },
  identity: {
    setupKey: `${key} set up`,
    markKey: key,
    mark: part(0.003, 0.006),
    setup: part(0.001, 0.002),
    inherited: [part(0.004, 0.008)],
  },
});
const seen = (residualM: number | null, own: object = {}, heightKind = 'orthometric'): SeenMark => {
  const axis = { residualM, independentM2: 3e-6, slowM2: 1e-6, tauS: 600 };
  return {
    axes: { first: axis, second: { ...axis, residualM: -1 }, up: { ...axis, ...own } },
    heightKind,
    atMs: 0,
  } as unknown as SeenMark;
};
const register = (own: Partial<GatheredRegister> = {}): GatheredRegister =>
  ({
    marks: [
      { pointId: 'A', known: { row: { sigmaHorizontalM: 0.01, sigmaVerticalM: 0.03 } } },
      { pointId: 'B', known: { row: { sigmaHorizontalM: null, sigmaVerticalM: 0.03 } } },
      { pointId: 'C', known: { row: { sigmaHorizontalM: 0.01, sigmaVerticalM: null } } },
    ],
    setUps: [
      {
        base: base('M1'),
        seen: new Map([
          [0, [seen(0.001)]],
          [1, [seen(null)]],
        ]),
      },
      { base: base('M2'), seen: new Map([[1, [seen(null)]]]) },
      { base: base('M1'), seen: new Map([[1, [seen(0.002, {}, 'ellipsoidal')]]]) },
      { base: base('M3', { day: undefined }), seen: new Map([[2, [seen(0.003)]]]) },
    ],
    ...own,
  }) as unknown as GatheredRegister;

describe('the residuals of a register', () => {
  const gathered = register();
  const bases = registerBases(gathered);
  const series = (axis: RegisterAxis, geoidSigmaM: number | null = 0.04) =>
    axisSeries(gathered, bases, axis, { geoidSigmaM });

  it('belong to the mark of their base, or to a base that stood all the while', () => {
    expect(bases.map(({ key }) => key)).toEqual(['M1', 'M2', 'M3 set up']);
    const { setUps, series: made } = series('first');
    // A set-up without a residual is none of the series.
    expect(setUps).toEqual([0, 2, 3]);
    expect(made.epochs.map(({ base: place }) => place)).toEqual([0, 0, 2]);
    expect(made.epochs.map(({ rows }) => rows.map(({ mark, residualM }) => [mark, residualM]))).toEqual([
      [[0, 0.001]],
      [[1, 0.002]],
      [[2, 0.003]],
    ]);
  });

  it('share the error of setting up, but for a base that was set up once, whose error is one', () => {
    expect(series('first').series.epochs.map(({ sharedM2 }) => sharedM2)).toEqual([close(1e-6), close(1e-6), 0]);
    expect(series('up').series.epochs.map(({ sharedM2 }) => sharedM2)).toEqual([close(4e-6), close(4e-6), 0]);
    // 3 and 4 mm of the mark and the one it was measured from make 5; the one that stood has its millimetre beside: 26.
    expect(series('first').series.baseM2).toEqual([close(25e-6, 12), close(25e-6, 12), close(26e-6, 12)]);
    expect(series('second').series.baseM2).toEqual([close(25e-6, 12), close(25e-6, 12), close(26e-6, 12)]);
    expect(series('up').series.baseM2).toEqual([close(100e-6, 12), close(100e-6, 12), close(104e-6, 12)]);
  });

  it('share the sigma of their mark, in height with that of the geoid where heights are above it', () => {
    expect(series('first').series.markM2).toEqual([close(1e-4, 12), null, close(1e-4, 12)]);
    // 3 and 4 cm make 5; the second mark has ellipsoidal heights first seen without a residual: above the geoid.
    expect(series('up').series.markM2).toEqual([close(25e-4, 12), close(25e-4, 12), null]);
    expect(series('up', null).series.markM2).toEqual([close(9e-4, 12), close(9e-4, 12), null]);
    const ellipsoidal = register({
      setUps: [{ base: base('M1'), seen: new Map([[0, [seen(0.001, {}, 'ellipsoidal')]]]) }],
    } as never);
    expect(
      axisSeries(ellipsoidal, registerBases(ellipsoidal), 'up', { geoidSigmaM: 0.04 }).series.markM2[0],
    ).toBeCloseTo(9e-4, 12);
  });
});

describe('the occupations of a mark in one set-up', () => {
  const at = (residualM: number | null, independentM2: number, slowM2: number, atMs: number | null): SeenMark =>
    ({ axes: { up: { residualM, independentM2, slowM2, tauS: 600 } }, atMs }) as unknown as SeenMark;

  it('are one residual, each by its own variance: 1 mm with 1 mm², 4 mm with 2 mm²', () => {
    // Weights 2/3 and 1/3, but for what coordinates are recorded to: (2·1 + 4)/3 = 2 mm; (4·1 + 1·2)/9 mm².
    const made = setUpResidual([at(0.001, 1e-6, 0, 0), at(0.004, 2e-6, 0, 0), at(null, 1e-9, 0, 0)], 'up');
    expect(made?.residualM).toBeCloseTo(0.002, 5);
    expect(made?.ownM2).toBeCloseTo((6 / 9) * 1e-6, 7);
    expect(setUpResidual([at(null, 1e-6, 0, 0)], 'up')).toBeNull();
  });

  it('share slow errors by the time between them: all at once, a third of them after the correlation time', () => {
    const variance = (...times: readonly (number | null)[]): number =>
      setUpResidual(
        times.map((atMs) => at(0, 0, 1e-6, atMs)),
        'up',
      )?.ownM2 ?? NaN;
    expect(variance(0)).toBeCloseTo(1e-6, 7);
    expect(variance(0, 0)).toBeCloseTo(1e-6, 7);
    // e⁻¹ of the error is left after 600 s: (1 + e⁻¹)/2.
    expect(variance(0, 600_000)).toBeCloseTo(((1 + Math.exp(-1)) / 2) * 1e-6, 7);
    expect(variance(600_000, 0)).toBeCloseTo(variance(0, 600_000), 15);
    // Without times nothing says that it has changed.
    expect(variance(0, null)).toBeCloseTo(1e-6, 7);
    expect(variance(0, 86_400_000)).toBeCloseTo(0.5e-6, 7);
  });
});
