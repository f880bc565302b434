import { describe, expect, it } from 'vitest';
import type { LimitVerdict } from '../../../src/core/quality/standards/limit-verdict.js';
import { checkTitle, explainCheck } from '../../../src/tasks/check/explain-check.js';
import type { AddedToCheck } from '../../../src/tasks/check/explain-check.js';
import type { NoiseLimits } from '../../../src/tasks/check/judge/check-tolerances-judge.js';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, placedRow } from '../../support/check-setup.js';

const { axes } = PLAIN_CHECK;
const NOISE: NoiseLimits = { chiSquare: 9.21, z: 2.81, signs: [1, 1] };
const NOTHING: AddedToCheck = { geoidSigmaM: null, isOfDay: false };
const SIGMAS = { sigmaEastM: 0.01, sigmaNorthM: 0.02, sigmaUpM: 0.03 };
const measured = placedRow({
  gridFirst: 103,
  gridSecond: 204,
  orthometricHeightM: 52,
  ellipsoidalHeightM: 80,
  ...SIGMAS,
});
const known = placedRow({ gridFirst: 100, gridSecond: 200, orthometricHeightM: 50, ellipsoidalHeightM: 79 });
const ROW: CheckRow = {
  check: 'control',
  pointId: 'P1',
  occupation: '',
  against: 'K1',
  firstM: 3,
  secondM: 4,
  upM: 2,
  heightKind: 'orthometric',
  alongM: null,
  acrossM: null,
  distanceM: null,
  chainageM: null,
  separationS: null,
  horizontalStatistic: 7.25,
  verticalStatistic: 1.5,
  limits: [],
  verdict: 'within',
  reasons: [],
  measured,
  known,
  // 0.01² and so on.
  covariance: { eeM2: 0.0001, enM2: 0, euM2: 0, nnM2: 0.0004, nuM2: 0, uuM2: 0.0009 },
  vector: null,
};
const explained = (own: Partial<CheckRow> = {}, noise: NoiseLimits | null = NOISE, added = NOTHING) =>
  explainCheck({ ...ROW, ...own }, axes, noise, added);
/** The lines of the step of this title; empty where it is not there. */
const step = (title: string, ...how: Parameters<typeof explained>): readonly string[] =>
  explained(...how)
    .filter((one) => one.title === title)
    .flatMap(({ formula, substitution, result }) => [formula, ...substitution, ...result]);
const text = (...how: Parameters<typeof step>): string => step(...how).join('\n');

describe('the working of a check', () => {
  it('has only the steps that were taken', () => {
    const titles = (own: Partial<CheckRow>): readonly string[] => explained(own).map(({ title }) => title);
    const [first, last] = ['The difference', 'Verdict'];
    const [sigma, noise, limit] = ['Its uncertainty', 'Held against its uncertainty', 'Held against its limits'];
    expect(titles({})).toEqual([first, sigma, noise, last]);
    expect(titles({ horizontalStatistic: null })).toEqual([first, sigma, noise, last]);
    expect(titles({ verticalStatistic: null })).toEqual([first, sigma, noise, last]);
    expect(titles({ horizontalStatistic: null, verticalStatistic: null, covariance: null })).toEqual([
      first,
      sigma,
      last,
    ]);
    expect(titles({ limits: [LIMIT] })).toEqual([first, sigma, noise, limit, last]);
    expect(text(sigma, { covariance: null })).toContain('nothing is tested against it');
    expect(step(last)).toContain('reasons: none');
    expect(step(last, { reasons: ['check-horizontal-limit', 'check-vertical-limit'], verdict: 'exceeds' })).toEqual(
      expect.arrayContaining(['reasons: check-horizontal-limit, check-vertical-limit', 'exceeds']),
    );
  });

  it('bears the name of the point, its occupation, and what it was held against', () => {
    expect(checkTitle(ROW)).toBe('Check of P1, with control (K1)');
    expect(checkTitle({ ...ROW, occupation: '2', check: 'base-pair', against: '1' })).toBe(
      'Check of P1, occupation 2, with its occupation from another base (1)',
    );
  });

  it('takes the difference from both sides: 3 and 4 m in plan make 5', () => {
    expect(step('The difference')).toEqual([
      'measured minus known: A is easting, B northing, H the orthometric height',
      'measured: A_measured = 103.00000000 m; B_measured = 204.00000000 m',
      'known: A_known = 100.00000000 m; B_known = 200.00000000 m',
      'ΔA = A_measured − A_known = 3.0000 m; ΔB = B_measured − B_known = 4.0000 m',
      'plan = √(ΔA² + ΔB²) = 5.0000 m',
      'H_measured = 52.00000000 m; H_known = 50.00000000 m',
      'ΔH = H_measured − H_known = 2.0000 m',
    ]);
    expect(text('The difference', { heightKind: 'ellipsoidal', upM: 1 })).toContain(
      'H_measured = 80.00000000 m; H_known = 79.00000000 m',
    );
  });

  it('gives a difference as it is where a side has no grid values, and says what is not compared', () => {
    for (const side of ['measured', 'known'] as const) {
      const lines = step('The difference', { [side]: placedRow({ orthometricHeightM: 50 }) });
      expect(lines).toContain('ΔA = 3.00000000 m; ΔB = 4.00000000 m');
      expect(lines.some((line) => line.startsWith(`${side}:`))).toBe(false);
    }
    const lines = step('The difference', { measured: null, known: null });
    expect(lines).toContain('ΔA = 3.00000000 m; ΔB = 4.00000000 m');
    expect(lines).toContain('height is not compared');
    expect(text('The difference', { firstM: null })).toContain('plan is not compared');
    expect(text('The difference', { secondM: null })).toContain('plan is not compared');
    expect(text('The difference', { upM: null })).toContain('height is not compared');
    expect(text('The difference', { known: placedRow({ gridFirst: 1, gridSecond: 2 }) })).toContain(
      'height is not compared',
    );
    expect(text('The difference', { upM: null, heightKind: null })).toContain('H the height\n');
  });
});

describe('the working of its uncertainty', () => {
  const title = 'Its uncertainty';
  it('adds up both sides for control, in square millimetres', () => {
    const stated = placedRow({ gridFirst: 1, gridSecond: 2, sigmaHorizontalM: 0.005, sigmaVerticalM: 0.006 });
    const lines = step(title, { known: stated }, NOISE, { geoidSigmaM: 0.007, isOfDay: false });
    expect(lines).toContain(
      'measured: σ_e = 10.0000 mm; σ_n = 20.0000 mm; σ_u = 30.0000 mm; ρ = 0.000000; γ = 0.0000000000000°',
    );
    expect(lines).toContain('σ_plan = 5.0000 mm');
    expect(lines).toContain('σ_height = 6.0000 mm');
    expect(lines).toContain('σ_N = 7.0000 mm (geoid)');
    expect(lines).toContain('C_EE = cos²γ·σ_e² − 2·sin γ·cos γ·ρ·σ_e·σ_n + sin²γ·σ_n² + σ_plan² = 100.00 mm²');
    expect(lines).toContain('s_E = √(C_EE) = 10.00 mm; s_N = √(C_NN) = 20.00 mm; s_U = √(C_UU) = 30.00 mm');
  });

  it('says what is not stated, and adds nothing of it', () => {
    const lines = step(title);
    expect(lines).toContain('σ_plan = 0.0000 mm (the control states no sigma in plan: none is added)');
    expect(lines).toContain('σ_height = 0.0000 mm (the control states no sigma in height: none is added)');
    expect(lines).toContain('σ_N = 0.0000 mm (geoid)');
    // Ellipsoidal heights know no geoid.
    expect(step(title, { heightKind: 'ellipsoidal' }, NOISE, { geoidSigmaM: 0.007, isOfDay: false })).toContain(
      'σ_N = 0.0000 mm (geoid)',
    );
  });

  it('gives the sum alone where the sides share something, or the day adds to it', () => {
    const shared = 'what the two sides share counts once, and what the day adds is in it';
    for (const lines of [
      step(title, { check: 'repeat' }),
      step(title, {}, NOISE, { geoidSigmaM: null, isOfDay: true }),
    ]) {
      expect(lines).toContain(shared);
      expect(lines).toContain('C_NN = 400.000000 mm²');
    }
  });

  it.each(['sigmaEastM', 'sigmaNorthM', 'sigmaUpM'] as const)(
    'says that the planning model stands in where a point states no %s',
    (missing) => {
      const lines = step(title, { measured: placedRow({ gridFirst: 1, gridSecond: 2, ...SIGMAS, [missing]: null }) });
      expect(lines).toContain('the measured point states no sigma: the planning model stands in for it');
      expect(lines).toContain('C_EE = 100.000000 mm²');
    },
  );
});

describe('the working of the test', () => {
  const title = 'Held against its uncertainty';
  const form = (sign: string): string => `Q = (C_NN·ΔA² ${sign} 2·C_EN·ΔA·ΔB + C_EE·ΔB²) / (C_EE·C_NN − C_EN²) = 7.25`;
  it('shows the quadratic form, whose middle term turns where one axis alone counts the other way', () => {
    expect(step(title)).toEqual(
      expect.arrayContaining([
        form('−'),
        'z = |ΔH| / s_U = 1.50',
        'limits Q ≤ 9.21 and z ≤ 2.81, which all comparisons share',
      ]),
    );
    for (const [signs, sign] of [
      [[-1, -1], '−'],
      [[-1, 1], '+'],
      [[1, -1], '+'],
    ] as const)
      expect(step(title, {}, { ...NOISE, signs })).toContain(form(sign));
  });

  it('of occupations of one point is one test of all of them', () => {
    for (const check of ['repeat', 'base-pair'] as const)
      expect(step(title, { check }, null)).toEqual(
        expect.arrayContaining([
          'Q = 7.25',
          'z = 1.50',
          'the occupations of the point are judged by one test of all of them: see the summary',
        ]),
      );
    expect(step(title, { check: 'design' })).toContain(form('−'));
  });

  it('says which of both was not made', () => {
    expect(step(title, { horizontalStatistic: null })).toContain('plan is not tested');
    expect(step(title, { verticalStatistic: null })).toContain('height is not tested');
  });
});

const LIMIT: LimitVerdict = {
  limitName: 'horizontal',
  axis: '2d',
  valueM: 5,
  limitM: 5.5,
  marginM: 0.5,
  governedBy: 'constant',
  verdict: 'within',
} as LimitVerdict;

describe('the working of the limits', () => {
  const line = (own: Partial<LimitVerdict>, distanceM: number | null = null): readonly string[] =>
    step('Held against its limits', { limits: [{ ...LIMIT, ...own }], distanceM }).slice(1);
  it('has value, limit and what is left between them, by axis', () => {
    expect(line({})).toEqual([
      'horizontal: value = √(ΔA² + ΔB²) = 5.0000 m; limit = 5.50000000 m; margin = limit − value = 0.5000 m (within)',
    ]);
    expect(line({ axis: '1d' })[0]).toContain('value = max(|ΔA|, |ΔB|) = 5.0000 m');
    expect(line({ axis: 'up', governedBy: 'cap' })[0]).toMatch(
      /value = \|ΔH\| = 5.0000 m.*\(within, governed by cap\)$/u,
    );
    expect(line({ governedBy: null })[0]).toMatch(/\(within\)$/u);
  });

  it('says the distance that it grows with, or that it is not known', () => {
    expect(line({}, 1234.5)[0]).toBe('distance that limits grow with: 1234.5000 m');
    for (const missing of [{ limitM: null }, { marginM: null }])
      expect(line(missing)).toEqual(['horizontal: the limit needs a distance that is not known (within)']);
  });
});
