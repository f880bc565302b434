import { describe, expect, it } from 'vitest';
import { constantLimit } from '../../../../src/core/quality/standards/limit-rule.js';
import { STANDARDS } from '../../../../src/core/quality/standards/standards.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { checkControl } from '../../../../src/tasks/check/compare/check-tolerances-control.js';
import { checkDesign, checkLine } from '../../../../src/tasks/check/compare/check-tolerances-design.js';
import { alongAcross } from '../../../../src/tasks/check/compare/check-tolerances-difference.js';
import { CHECK_NOISE_LEVEL } from '../../../../src/core/quality/decision-levels.js';
import { noiseLimits } from '../../../../src/tasks/check/judge/check-tolerances-judge.js';
import { standardStatements } from '../../../../src/tasks/check/judge/check-tolerances-standard.js';
import { controlSummary } from '../../../../src/tasks/check/check-tolerances-summary.js';
import { PLAIN_CHECK, pointRow } from '../../../support/check-setup.js';
import { seededRandom } from '../../../support/seeded-random.js';

function point(
  pointId: string,
  gridFirst: number | null,
  gridSecond: number | null,
  orthometricHeightM: number | null,
  own: Partial<PointRow> = {},
): PointRow {
  return pointRow({
    pointId,
    gridFirst,
    gridSecond,
    orthometricHeightM,
    sigmaEastM: 0.01,
    sigmaNorthM: 0.01,
    sigmaUpM: 0.02,
    place: { sourceIndex: 0, line: 1 },
    ...own,
  });
}

const rowsOf = (
  points: readonly PointRow[],
  control: readonly PointRow[],
  setup = PLAIN_CHECK,
): ReturnType<typeof values> => values(checkControl(points, control, 'control.csv', setup));
function values(outcome: ReturnType<typeof checkControl>): {
  rows: Extract<typeof outcome, { ok: true }>['value']['rows'];
  codes: readonly string[];
} {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return { rows: outcome.value.rows, codes: outcome.problems.map(({ code }) => code) };
}

describe('checkControl', () => {
  it('gives measured minus known along the axes and in height, against the combined covariance', () => {
    const [row] = rowsOf(
      [point('A', 10.03, 19.98, 5.06)],
      [point('A', 10, 20, 5, { sigmaHorizontalM: 0.02, sigmaVerticalM: 0.01 })],
    ).rows;
    expect(row?.firstM).toBeCloseTo(0.03, 12);
    expect(row?.secondM).toBeCloseTo(-0.02, 12);
    expect(row?.upM).toBeCloseTo(0.06, 12);
    expect(row?.horizontalStatistic).toBeCloseTo((0.03 ** 2 + 0.02 ** 2) / (0.01 ** 2 + 0.02 ** 2), 9);
    expect(row?.verticalStatistic).toBeCloseTo(0.06 / Math.hypot(0.02, 0.01), 9);
  });

  it('never counts control of role fit, and counts that of role both', () => {
    const points = [point('A', 1, 1, 1), point('B', 1, 1, 1), point('C', 1, 1, 1)];
    const control = [
      point('A', 1, 1, 1, { role: 'fit' }),
      point('B', 1, 1, 1, { role: 'both' }),
      point('C', 1, 1, 1, { role: 'check' }),
    ];
    expect(Array.from(rowsOf(points, control).rows, (row) => row.pointId)).toEqual(['B', 'C']);
  });

  it('compares heights of one kind only: it joins them by N where there is one, and warns where there is none', () => {
    const known = [point('A', 1, 1, 100)];
    const joined = rowsOf([point('A', 1, 1, null, { ellipsoidalHeightM: 127.02, geoidHeightM: 27 })], known);
    expect(joined.rows.at(0)?.upM).toBeCloseTo(0.02, 9);
    const apart = rowsOf([point('A', 1, 1, null, { ellipsoidalHeightM: 127.02 })], known);
    expect([apart.rows.at(0)?.upM, apart.codes]).toEqual([null, ['check-height-kinds']]);
  });

  it('lets limits decide, and only marks what its uncertainty does not explain', () => {
    const setup = { ...PLAIN_CHECK, controlRules: [constantLimit('plan', '2d', 0.1)] };
    const [row] = rowsOf([point('A', 1.08, 1, 1)], [point('A', 1, 1, 1)], setup).rows;
    expect(row).toMatchObject({ verdict: 'within', reasons: ['check-horizontal-noise'] });
    expect(rowsOf([point('A', 1.08, 1, 1)], [point('A', 1, 1, 1)]).rows.at(0)?.verdict).toBe('exceeds');
  });

  it('keeps the uncertainty test of height where only plan has a limit, and the other way round', () => {
    const plan = { ...PLAIN_CHECK, controlRules: [constantLimit('plan', '2d', 0.1)] };
    const [high] = rowsOf([point('A', 1.01, 1, 6)], [point('A', 1, 1, 1)], plan).rows;
    expect(high).toMatchObject({ verdict: 'exceeds', reasons: ['check-vertical-noise'] });
    const height = { ...PLAIN_CHECK, controlRules: [constantLimit('height', 'up', 0.1)] };
    const [far] = rowsOf([point('A', 6, 1, 1.01)], [point('A', 1, 1, 1)], height).rows;
    expect(far).toMatchObject({ verdict: 'exceeds', reasons: ['check-horizontal-noise'] });
  });

  it('leaves for review what nothing judges beside a limit, and does not state what nothing judges at all', () => {
    const bare = { sigmaEastM: null, sigmaNorthM: null, sigmaUpM: null };
    const plan = { ...PLAIN_CHECK, controlRules: [constantLimit('plan', '2d', 0.1)] };
    expect(rowsOf([point('A', 1.01, 1, 6, bare)], [point('A', 1, 1, 1)], plan).rows.at(0)).toMatchObject({
      verdict: 'review',
      reasons: ['check-axis-unjudged'],
    });
    expect(rowsOf([point('A', 1.01, 1, 6, bare)], [point('A', 1, 1, 1)]).rows.at(0)).toMatchObject({
      verdict: 'not-stated',
      reasons: ['check-axis-unjudged'],
    });
  });

  it('raises a false alarm on the stated part of 2,000 days with independent errors, within four standard errors', () => {
    const random = seededRandom(31);
    let alarms = 0;
    for (let day = 0; day < 2000; day += 1) {
      const points = Array.from({ length: 8 }, (_, i) =>
        point(String(i), 0.01 * random.normal(), 0.01 * random.normal(), 0.02 * random.normal()),
      );
      const control = points.map(({ pointId }) => point(pointId, 0, 0, 0));
      if ([...rowsOf(points, control).rows].some((row) => row.verdict === 'exceeds')) alarms += 1;
    }
    expect(Math.abs(alarms / 2000 - CHECK_NOISE_LEVEL)).toBeLessThan(
      4 * Math.sqrt((CHECK_NOISE_LEVEL * (1 - CHECK_NOISE_LEVEL)) / 2000),
    );
    expect(noiseLimits(1, PLAIN_CHECK.axes).chiSquare).toBeGreaterThan(5.99);
  });

  it('says of a rejected point that it has no coordinate', () => {
    const [row] = rowsOf([point('A', null, null, null, { verdict: 'rejected' })], [point('A', 1, 1, 1)]).rows;
    expect(row).toMatchObject({ verdict: 'not-stated', reasons: ['check-no-coordinate'] });
  });

  it('refuses a control named twice, and files with nothing in common', () => {
    const codes = (points: readonly PointRow[], control: readonly PointRow[]): readonly string[] =>
      checkControl(points, control, 'c', PLAIN_CHECK).problems.map(({ code }) => code);
    expect(codes([point('A', 1, 1, 1)], [point('A', 1, 1, 1), point('A', 1, 1, 1)])).toEqual(['value-duplicate-id']);
    expect(codes([point('A', 1, 1, 1)], [point('B', 1, 1, 1)])).toEqual(['check-nothing-in-common']);
  });
});

describe('alongAcross', () => {
  it('is along the direction from the base and positive to its right, in south-orientated and west-orientated axes too', () => {
    const difference = { firstM: 0.03, secondM: 0, upM: null, heightKind: null, heightsDiffer: false };
    const east = { distanceM: 1, azimuthDeg: 90, heightDifferenceM: 0 };
    const north = { ...east, azimuthDeg: 0 };
    expect(alongAcross(difference, east, 0, [1, 1]).alongM).toBeCloseTo(0.03, 15);
    expect(alongAcross(difference, north, 0, [1, 1]).acrossM).toBeCloseTo(0.03, 15);
    expect(alongAcross(difference, east, 0, [-1, -1]).alongM).toBeCloseTo(-0.03, 15);
    const northward = { ...difference, firstM: 0.01, secondM: 0.03 };
    expect(alongAcross(northward, north, 0, [-1, 1]).alongM).toBeCloseTo(0.03, 15);
    expect(alongAcross(northward, north, 0, [-1, 1]).acrossM).toBeCloseTo(-0.01, 15);
    expect(alongAcross(difference, { ...east, azimuthDeg: null }, 0, [1, 1])).toEqual({ alongM: null, acrossM: null });
  });
});

describe('controlSummary', () => {
  it('finds a scale in the regression on the vector from the base', () => {
    const points = Array.from({ length: 12 }, (_, i) => {
      const azimuth = (i * 77) % 360;
      const km = 2 + 3 * i;
      const stretch = 0.01 * km;
      return point(
        `K${String(i)}`,
        stretch * Math.sin((azimuth * Math.PI) / 180),
        stretch * Math.cos((azimuth * Math.PI) / 180),
        0.002 * i,
        { baselineM: km * 1000, baselineAzimuthDeg: azimuth, baselineHeightDifferenceM: 10 * i },
      );
    });
    const summary = controlSummary(
      rowsOf(
        points,
        points.map(({ pointId }) => point(pointId, 0, 0, 0)),
      ).rows,
      PLAIN_CHECK,
    );
    expect(summary.eastOnVector?.terms[1]?.estimate).toBeCloseTo(0.01, 12);
    expect(summary.northOnVector?.terms[2]?.estimate).toBeCloseTo(0.01, 12);
    expect(summary.upOnHeight?.terms[1]?.estimate).toBeCloseTo(0.02, 12);
    expect(summary.along?.count).toBe(12);
  });
});

describe('checkDesign and checkLine', () => {
  const design = [
    point('L1', 0, 0, 10, { toleranceHorizontalM: 0.05, toleranceVerticalM: 0.02 }),
    point('L2', 0, 100, 11),
  ];

  it('judge each point by its own tolerance, and name what was not measured', () => {
    const outcome = checkDesign([point('L1', 0.04, 0.04, 10.01)], design, 'd.csv', PLAIN_CHECK);
    expect(outcome.ok && outcome.value.missing).toEqual(['L2']);
    expect(outcome.ok && outcome.value.rows.at(0)).toMatchObject({
      verdict: 'exceeds',
      reasons: expect.arrayContaining(['check-horizontal-limit']) as unknown,
    });
  });

  it('give chainage, offset and height over a line, whatever way the axes point', () => {
    const north = checkLine([point('P', 0.03, 40, 10.41)], design, 'd.csv', PLAIN_CHECK);
    const south = checkLine(
      [point('P', -0.03, -40, 10.41)],
      design.map((row) => ({ ...row, gridSecond: -(row.gridSecond ?? 0) })),
      'd.csv',
      { ...PLAIN_CHECK, axes: { ...PLAIN_CHECK.axes, signs: [-1, -1] } },
    );
    for (const outcome of [north, south]) {
      const row = outcome.ok ? outcome.value.rows.at(0) : undefined;
      expect([row?.chainageM, row?.acrossM, row?.upM].map((value) => Number((value ?? NaN).toFixed(9)))).toEqual([
        40, 0.03, 0.01,
      ]);
    }
    expect(checkLine([], design.slice(1), 'd.csv', PLAIN_CHECK).problems.map(({ code }) => code)).toEqual([
      'check-too-few-rows',
    ]);
  });
});

describe('standardStatements', () => {
  const standard = (id: string): (typeof STANDARDS)[number] => {
    const found = STANDARDS.find((entry) => entry.id === id);
    if (found === undefined) throw new Error(id);
    return found;
  };

  it('state an accuracy from 20 different points and not from 19', () => {
    const points = Array.from({ length: 20 }, (_, i) =>
      point(String(i), i % 2 === 0 ? 0.02 : -0.02, i % 4 < 2 ? 0.02 : -0.02, 0.01),
    );
    const summary = controlSummary(
      rowsOf(
        points,
        points.map(({ pointId }) => point(pointId, 0, 0, 0)),
      ).rows,
      PLAIN_CHECK,
    );
    expect(standardStatements(standard('nssda'), points, summary, 20, false)[0]?.text).toContain('0.049 m at 95 %');
    expect(standardStatements(standard('nssda'), points, summary, 19, false)[0]).toMatchObject({
      verdict: 'not-stated',
      text: expect.stringContaining('1 more') as unknown,
    });
  });

  it('ask for occupations apart in the time of day: the same hour a day later does not count', () => {
    const at = (hours: number): PointRow => point('A', 1, 1, 1, { firstEpochMs: hours * 3_600_000, baselineM: 1000 });
    const verdict = (rows: readonly PointRow[]): unknown =>
      standardStatements(standard('single-base-rt1'), rows, null, 0, false).find(({ what }) => what === 'repeat')
        ?.verdict;
    expect([verdict([at(6)]), verdict([at(6), at(30)]), verdict([at(6), at(10)]), verdict([at(23), at(25)])]).toEqual([
      'not-stated',
      'not-stated',
      'within',
      'not-stated',
    ]);
  });

  // Three minutes of epochs each second are 180 of them, 179 s from the first to the last (NGS-RT-2011, recommended procedures by class,
  // 3 minutes for RT1 and 1 for RT2, from memory; that an epoch stands for its second is common practice, no published source).
  it('count the second of the last epoch into the time observed', () => {
    const lasting = (id: string, seconds: number): unknown =>
      standardStatements(
        standard(id),
        [point('A', 1, 1, 1, { firstEpochMs: 0, lastEpochMs: seconds * 1000, baselineM: 1000 })],
        null,
        0,
        true,
      ).find(({ what }) => what === 'duration')?.verdict;
    expect([lasting('single-base-rt1', 178), lasting('single-base-rt1', 179)]).toEqual(['exceeds', undefined]);
    expect([lasting('single-base-rt2', 58), lasting('single-base-rt2', 59)]).toEqual(['exceeds', undefined]);
  });

  it('say what was not judged, and ask for the raw fixes and for the bases that the class needs', () => {
    const at = (baseId: string, hours: number): PointRow =>
      point('A', 1, 1, 1, {
        firstEpochMs: hours * 3_600_000,
        lastEpochMs: hours * 3_600_000 + 180_000,
        baselineM: 1000,
        baseId,
      });
    const verdicts = (rows: readonly PointRow[], hasFixes: boolean): unknown =>
      Object.fromEntries(
        standardStatements(standard('single-base-rt1'), rows, null, 0, hasFixes).map(({ what, verdict }) => [
          what,
          verdict,
        ]),
      );
    expect(verdicts([at('B1', 6), at('B1', 12)], false)).toEqual({
      'PDOP and satellites': 'not-stated',
      bases: 'not-stated',
      repeat: 'within',
      'asked by the standard and not judged here': 'information',
    });
    expect(verdicts([at('B1', 6), at('B2', 12)], true)).toEqual({
      repeat: 'within',
      'asked by the standard and not judged here': 'information',
    });
    for (const entry of STANDARDS) expect(entry.notJudged.length, entry.id).toBeGreaterThan(0);
  });

  it('class stated uncertainty', () => {
    expect(standardStatements(standard('fgdc-classes'), [point('A', 1, 1, 1)], null, 0, false)[0]?.text).toBe(
      '5-centimetre horizontal, 5-centimetre orthometric height: 1 point',
    );
  });
});
