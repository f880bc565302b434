import { describe, expect, it } from 'vitest';
import { chiSquareQuantile } from '../../../../src/core/numeric/distributions/chi-square.js';
import { varianceFactor } from '../../../../src/core/observation/averaging/correlated-mean.js';
import { covarianceFromSigmas } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { requiredSeparationS } from '../../../../src/core/observation/repeats/repeat-test.js';
import { splitCovariance } from '../../../../src/core/quality/split-covariance.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { checkRepeats } from '../../../../src/tasks/check/compare/check-tolerances-repeats.js';
import type { CheckSetup } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK, checkBase, pointRow } from '../../../support/check-setup.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';

const { precision } = PLAIN_CHECK;
const UP_LIMIT = {
  name: 'l',
  axis: 'up',
  probability: null,
  combine: 'linear',
  constantM: 0.5,
  ppm: 0,
  distanceOffsetM: 0,
  perRootKmM: 0,
  floorM: null,
  capM: null,
} as const;

/** A session of set-ups called B1, as far as the comparison looks at them. */
function withBases(
  setups: readonly { readonly fromMs: number | null; readonly toMs: number | null; readonly markKey: string }[],
  markM: number,
): CheckSetup {
  const mark = { horizontalM: markM, verticalM: markM };
  const setup = { horizontalM: 0, verticalM: 0 };
  return {
    ...PLAIN_CHECK,
    bases: setups.map((own, index) => checkBase('B1', { ...own, setupKey: String(index), mark, setup })),
  };
}

function withBase(sigmas: Pick<CheckSetup['bases'][number]['identity'], 'mark' | 'setup'>): CheckSetup {
  return { ...PLAIN_CHECK, bases: [checkBase('B1', sigmas)] };
}

const WITH_BASE = withBase({ mark: { horizontalM: 0, verticalM: 0 }, setup: { horizontalM: 0, verticalM: 0 } });
const SIGMA = { h: 0.018, v: 0.035 };
const BASELINE_M = 25_000;
const APART_S = 7200;

function row(
  occupation: string,
  place: readonly [number, number, number],
  startS: number,
  own: Partial<PointRow> = {},
): PointRow {
  return pointRow({
    pointId: 'P',
    occupation,
    gridFirst: place[0],
    gridSecond: place[1],
    orthometricHeightM: place[2],
    baseId: 'B1',
    baselineM: BASELINE_M,
    baselineAzimuthDeg: 0,
    baselineHeightDifferenceM: 0,
    firstEpochMs: startS * 1000,
    lastEpochMs: (startS + 60) * 1000,
    sigmaEastM: SIGMA.h,
    sigmaNorthM: SIGMA.h,
    sigmaUpM: SIGMA.v,
    verdict: 'accepted',
    place: { sourceIndex: 0, line: 0 },
    ...own,
  });
}

/** Errors of two occupations, built from the parts that the file's totals are split into. */
function pairOfErrors(random: SeededRandom): readonly (readonly [number, number, number])[] {
  const parts = splitCovariance(
    covarianceFromSigmas(SIGMA.h, SIGMA.h, SIGMA.v, null),
    { distanceM: BASELINE_M, heightDifferenceM: 0 },
    precision,
    { mark: { horizontalM: 0, verticalM: 0 }, setup: { horizontalM: 0, verticalM: 0 } },
    60,
  );
  const { correlationHorizontalS, correlationVerticalS } = precision.at(BASELINE_M, null);
  const axis = (independentM2: number, slowM2: number, tauS: number): readonly [number, number] => {
    const rho = Math.exp(-APART_S / tauS);
    const a = random.normal();
    const b = rho * a + Math.sqrt(1 - rho * rho) * random.normal();
    return [
      Math.sqrt(slowM2) * a + Math.sqrt(independentM2) * random.normal(),
      Math.sqrt(slowM2) * b + Math.sqrt(independentM2) * random.normal(),
    ];
  };
  const { independent: i, correlated: c, baseline: g } = parts;
  const e = axis(i.eeM2, c.eeM2 + g.eeM2, correlationHorizontalS);
  const n = axis(i.nnM2, c.nnM2 + g.nnM2, correlationHorizontalS);
  const u = axis(i.uuM2, c.uuM2 + g.uuM2, correlationVerticalS);
  return [
    [e[0], n[0], u[0]],
    [e[1], n[1], u[1]],
  ];
}

function check(
  points: readonly PointRow[],
  samePlaceM: number | null = null,
  setup = PLAIN_CHECK,
): ReturnType<typeof checkRepeats> {
  return checkRepeats(points, samePlaceM, 'points.csv', setup);
}

describe('checkRepeats', () => {
  it.each(readReferenceTable('repeats').map((entry) => [entry.case, entry] as const))('asks %s', (_, entry) => {
    const input = entry.number('input');
    let found = chiSquareQuantile(0.95, input);
    if (entry.text('quantity') === 'two_occupation_factor') {
      const { correlationVerticalS } = precision.at(input, null);
      expect([requiredSeparationS(input), correlationVerticalS]).toEqual([
        entry.number('separation_s'),
        entry.number('correlation_s'),
      ]);
      found = Math.sqrt(varianceFactor([0, entry.number('separation_s')], null, correlationVerticalS));
    }
    expect(Math.abs(found - entry.number('expected'))).toBeLessThanOrEqual(entry.tolerance);
  });

  it('raises a false alarm in 1 % of 2,000 true repeats of one point, and finds a slip in height as often as one test at that level does', () => {
    const random = seededRandom(2024);
    const slipM = 0.12;
    const limit = chiSquareQuantile(0.99, 3);
    let alarms = 0;
    let found = 0;
    let expected = 0;
    for (let run = 0; run < 2000; run += 1) {
      const [a = [0, 0, 0], b = [0, 0, 0]] = pairOfErrors(random);
      const clean = check([row('1', a, 0), row('2', b, APART_S)], null, WITH_BASE);
      const slipped = check([row('1', a, 0), row('2', [b[0], b[1], b[2] + slipM], APART_S)], null, WITH_BASE);
      if (!clean.ok || !slipped.ok) throw new Error('no comparison');
      if (clean.value.rows.at(0)?.verdict === 'exceeds') alarms += 1;
      if (slipped.value.rows.at(0)?.verdict === 'exceeds') found += 1;
      // Its own reckoning: the slip over the sigma of the difference, plus noise of its own, squared and summed.
      const sigmaM = Math.sqrt(clean.value.rows.at(0)?.covariance?.uuM2 ?? 0);
      if (random.normal() ** 2 + random.normal() ** 2 + (random.normal() + slipM / sigmaM) ** 2 > limit) expected += 1;
    }
    expect(Math.abs(alarms / 2000 - 0.01)).toBeLessThan(4 * Math.sqrt((0.01 * 0.99) / 2000));
    expect(Math.abs(found - expected) / 2000).toBeLessThan(4 * Math.sqrt((2 * 0.25) / 2000));
  });

  it('shares its level over the points: a limit that grows with their number', () => {
    const points = [1, 20].map((count) =>
      check(
        Array.from({ length: count }, (_, index) => [
          row('1', [0, 0, 0], 0, { pointId: `P${index}` }),
          row('2', [0, 0, 0.01], APART_S, { pointId: `P${index}` }),
        ]).flat(),
        null,
        WITH_BASE,
      ),
    );
    expect(points.map((result) => result.ok && result.value.groups[0]?.limit)).toEqual([
      chiSquareQuantile(0.99, 3),
      chiSquareQuantile(1 - (1 - 0.99 ** (1 / 20)), 3),
    ]);
  });

  it('gives no opposite verdicts with a session and without: what depends on the base is not decided', () => {
    const verdicts = (eastM: number, setup: CheckSetup): string | undefined => {
      const result = check([row('1', [0, 0, 0], 0), row('2', [eastM, 0, 0], APART_S)], null, setup);
      return result.ok
        ? `${result.value.rows.at(0)?.verdict ?? ''} ${result.value.rows.at(0)?.reasons.join() ?? ''}`
        : undefined;
    };
    const base = (sigmaM: number): CheckSetup =>
      withBase({ mark: { horizontalM: sigmaM, verticalM: sigmaM }, setup: { horizontalM: 0, verticalM: 0 } });
    for (const eastM of [0.001, 0.03, 0.05, 0.06, 0.07, 0.08, 0.1, 0.2]) {
      const without = verdicts(eastM, PLAIN_CHECK)?.split(' ')[0];
      for (const sigmaM of [0, 0.005, 0.01]) {
        const against = verdicts(eastM, base(sigmaM))?.split(' ')[0];
        if (without !== 'review') expect(against).toBe(without);
      }
    }
    expect(verdicts(0.001, PLAIN_CHECK)).toBe('within ');
    expect(verdicts(0.2, PLAIN_CHECK)).toBe('exceeds check-repeat-noise');
  });

  it('lists neighbours and the farthest of many stands, and judges them by one test', () => {
    const stands = Array.from({ length: 40 }, (_, index) =>
      row(
        String(index + 1),
        [index === 17 ? 0.5 : index % 2 === 0 ? 0.001 : 0, 0, index === 30 ? 0.02 : 0],
        index * APART_S,
      ),
    );
    const result = check(stands, null, WITH_BASE);
    if (!result.ok) throw new Error('no comparison');
    expect(result.value.rows.length).toBeLessThan(42);
    expect(result.value.groups[0]).toMatchObject({ odd: '18', degreesOfFreedom: 117 });
    expect(
      [...result.value.rows]
        .filter(({ verdict }) => verdict === 'exceeds')
        .every(({ occupation, against }) => occupation === '18' || against === '18'),
    ).toBe(true);
  });

  it('takes two set-ups of one name for two, and shares what one mark gives both', () => {
    const two = withBases(
      [
        { fromMs: null, toMs: 3_600_000, markKey: 'a' },
        { fromMs: 3_600_000, toMs: null, markKey: 'b' },
      ],
      0.012,
    );
    const one = withBases(
      [
        { fromMs: null, toMs: 3_600_000, markKey: 'a' },
        { fromMs: 3_600_000, toMs: null, markKey: 'a' },
      ],
      0.012,
    );
    const varianceOf = (setup: CheckSetup): number => {
      const result = check([row('1', [0, 0, 0], 0), row('2', [0, 0, 0], 10 * APART_S)], null, setup);
      return result.ok ? (result.value.rows.at(0)?.covariance?.eeM2 ?? 0) : 0;
    };
    expect(varianceOf(two) - varianceOf(one)).toBeCloseTo(2 * 0.012 ** 2, 9);
  });

  it('names a pole length where height alone disagrees, and a wrong integer where plan does', () => {
    const causes = [
      [0, 0, 0.2],
      [0.1, -0.06, 0.09],
      [4, 0, 0],
    ].map((place) => {
      const result = check([row('1', [0, 0, 0], 0), row('2', place as [number, number, number], APART_S)]);
      return result.ok ? result.value.groups[0]?.cause?.cause : null;
    });
    expect(causes).toEqual(['pole-length', 'wrong-integer', 'misidentified']);
  });

  it('names the occupation that stands alone of three', () => {
    const result = check([
      row('1', [0, 0, 0], 0),
      row('2', [0.12, 0, 0], APART_S),
      row('3', [0.002, 0, 0], 2 * APART_S),
    ]);
    expect(result.ok && result.value.groups[0]).toMatchObject({ odd: '2', degreesOfFreedom: 6 });
    const scattered = check([
      row('1', [0, 0, 0], 0),
      row('2', [0.2, 0, 0], APART_S),
      row('3', [0, 0.2, 0], 2 * APART_S),
    ]);
    expect(scattered.ok && scattered.value.groups[0]?.odd).toBeNull();
  });

  it('notes occupations too close in time, and asks for a review where they add nothing or a limit rests on them', () => {
    const of = (startS: number, setup: CheckSetup, own: Partial<PointRow> = {}): unknown => {
      const result = check([row('1', [0, 0, 0], 0, own), row('2', [0.001, 0, 0], startS, own)], null, setup);
      return result.ok && result.value.rows.at(0);
    };
    expect(of(1800, WITH_BASE)).toMatchObject({
      verdict: 'within',
      reasons: ['check-repeat-too-soon'],
      separationS: 1740,
    });
    expect(of(62, WITH_BASE, { sigmaEastM: 0.008, sigmaNorthM: 0.008, sigmaUpM: 0.015 })).toMatchObject({
      verdict: 'review',
      reasons: ['check-repeat-too-soon'],
    });
    expect(of(1800, { ...WITH_BASE, repeatRules: [UP_LIMIT] })).toMatchObject({
      verdict: 'review',
      reasons: ['check-repeat-too-soon'],
    });
  });

  it('lets a stated limit decide where there is one', () => {
    const setup = { ...PLAIN_CHECK, repeatRules: [UP_LIMIT] };
    const result = check([row('1', [0, 0, 0], 0), row('2', [0, 0, 0.2], APART_S)], null, setup);
    expect(result.ok && result.value.rows.at(0)).toMatchObject({ verdict: 'within', reasons: ['check-repeat-noise'] });
  });

  it('keeps the test of the axis that has no limit', () => {
    const plan = { ...UP_LIMIT, axis: '2d' } as const;
    const high = check([row('1', [0, 0, 0], 0), row('2', [0.01, 0, 5], APART_S)], null, {
      ...PLAIN_CHECK,
      repeatRules: [plan],
    });
    expect(high.ok && high.value.rows.at(0)).toMatchObject({ verdict: 'exceeds', reasons: ['check-repeat-noise'] });
    const far = check([row('1', [0, 0, 0], 0), row('2', [5, 0, 0.01], APART_S)], null, {
      ...PLAIN_CHECK,
      repeatRules: [UP_LIMIT],
    });
    expect(far.ok && far.value.rows.at(0)).toMatchObject({ verdict: 'exceeds', reasons: ['check-repeat-noise'] });
  });

  it('gives the misclosure of one point from two bases, with three degrees of freedom', () => {
    const result = check([row('1', [0, 0, 0], 0), row('2', [0.03, 0, 0.04], APART_S, { baseId: 'B2' })]);
    if (!result.ok) throw new Error('no comparison');
    expect(result.value.rows.at(0)?.check).toBe('base-pair');
    const [misclosure] = result.value.misclosures;
    expect(misclosure).toMatchObject({
      bases: ['B1', 'B2'],
      difference: { eastM: 0.03, northM: 0, upM: 0.04 },
      distanceM: BASELINE_M,
    });
    expect(misclosure?.chiSquare).toBeCloseTo(
      (result.value.rows.at(0)?.horizontalStatistic ?? 0) + (result.value.rows.at(0)?.verticalStatistic ?? 0) ** 2,
      9,
    );
  });

  it('joins by place, and refuses two names at one place and one name at two', () => {
    const joined = check([row('1', [0, 0, 0], 0), row('2', [0.3, 0, 0], APART_S)], 0.5);
    expect(joined.ok && joined.value.groups).toHaveLength(1);
    const names = check([row('1', [0, 0, 0], 0), row('2', [0.3, 0, 0], APART_S, { pointId: 'Q' })], 0.5);
    const places = check([row('1', [0, 0, 0], 0), row('2', [9, 0, 0], APART_S), row('3', [0, 0, 0], 2 * APART_S)], 0.5);
    for (const outcome of [names, places])
      expect([...new Set(outcome.problems.map(({ code }) => code))]).toEqual(['check-place-conflict']);
  });

  it('refuses a file without any repeat', () => {
    expect(check([row('1', [0, 0, 0], 0)]).problems.map(({ code }) => code)).toEqual(['check-nothing-in-common']);
  });
});
