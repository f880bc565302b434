import { describe, expect, it } from 'vitest';
import { WGS84 } from '../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../src/core/ellipsoid/geodesic.js';
import { baseCovariance } from '../../src/core/observation/uncertainty/base-covariance.js';
import { localFrameAt } from '../../src/core/ellipsoid/local-frame.js';
import { checkAnswer } from '../../src/tasks/check/check-answer.js';
import type { CheckFindings } from '../../src/tasks/check/check-answer.js';
import { PLAIN_CHECK } from '../support/check-setup.js';
import { createStandScreen } from '../../src/tasks/repeats/screen-stands.js';
import type { Fix } from '../../src/records/points/fix.js';
import { testReasons } from '../../src/tasks/reduce/occupations/occupation-tests.js';
import { runComparison } from '../../src/tasks/job/runs/run-comparison.js';
import { siteDoubts } from '../../src/tasks/site/doubts/site-doubts.js';
import { geodesicLines } from '../../src/tasks/explain/lines/geodesic-lines.js';
import { isOutOfOrder } from '../../src/core/observation/occupation.js';
import { makeFix } from '../core/observation/make-fix.js';

// Conditions that a sample of changes showed to be held by nothing: each from both of its sides.

describe('the answer of a check', () => {
  const of = (own: Partial<CheckFindings>) =>
    checkAnswer({
      ...{ rows: [], statements: [], refusals: new Map(), areFixesRefused: false, rowsSkipped: 0, doubtfulPoints: 0 },
      ...own,
    });
  it('counts what refused raw fixes beside what comparisons say', () => {
    const row = { verdict: 'review', reasons: ['epoch-not-fixed', 'check-not-stated'] } as never;
    const { reasons } = of({
      rows: [row, row],
      refusals: new Map([
        ['epoch-not-fixed', 5],
        ['epoch-pdop-high', 3],
      ]),
    });
    expect([...reasons].sort()).toEqual([
      ['check-not-stated', 2],
      ['epoch-not-fixed', 7],
      ['epoch-pdop-high', 3],
    ]);
  });

  it('is no for a row that is left out or fixes that are refused, review for one doubtful point, else within', () => {
    const within = [{ verdict: 'within', reasons: [] }] as never;
    expect(of({ rows: within }).answer).toBe('within');
    expect(of({ rows: within, rowsSkipped: 1 }).answer).toBe('no');
    expect(of({ rows: within, areFixesRefused: true }).answer).toBe('no');
    expect(of({ rows: within, doubtfulPoints: 1 }).answer).toBe('review');
  });
});

describe('the reasons of an occupation', () => {
  const axis = { isDrift: false, isStep: false };
  const of = (own: object): readonly string[] =>
    testReasons({
      ...{ agreement: 'agree', scatterIsLarge: false, motion: { isMoving: false }, east: axis, north: axis, up: axis },
      ...own,
    } as never);
  it.each([
    [{}, []],
    [{ scatterIsLarge: true }, ['point-scatter-large']],
    [{ scatterIsLarge: true, up: { isDrift: true, isStep: false } }, ['point-drift']],
    [{ scatterIsLarge: true, east: { isDrift: false, isStep: true } }, ['point-step']],
    [{ north: { isDrift: true, isStep: true } }, ['point-drift', 'point-step']],
    [{ scatterIsLarge: true, agreement: 'disagree' }, ['point-epochs-disagree', 'point-scatter-large']],
    [{ scatterIsLarge: true, motion: { isMoving: true }, agreement: 'few-agree' }, ['point-antenna-moving']],
  ])('of %j are %j', (own, reasons) => {
    expect(of(own)).toEqual(reasons);
  });
});

describe('a stand of two epochs', () => {
  const limits = {
    ...{ solution: ['fixed'], maxPdop: null, maxCorrectionAgeS: null, minSatellites: null, maxTiltDeg: null },
    ...{ maxBaselineM: null, minEpochs: null, minDurationS: 10, maxSigmaHorizontalM: null, maxSigmaVerticalM: null },
    occupationGapS: 60,
  };
  const screened = (seconds: readonly number[]): readonly string[] => {
    const screen = createStandScreen(limits as never, WGS84, PLAIN_CHECK.precision);
    for (const second of seconds)
      screen.push(makeFix({ pointId: 'P', epochMs: 1000 * second, solution: 'fixed' }), [], null);
    screen.finish();
    return [...screen.stands.keys()];
  };
  it('is as long as the time between them', () => {
    expect(screened([0, 9.9])).toEqual(['point-too-short']);
    expect(screened([0, 10])).toEqual([]);
    expect(screened([0])).toEqual(['point-too-short']);
  });
});

describe('two runs of which one has no record', () => {
  const side = (record: object | null) => ({ points: [], record }) as never;
  const limits = { horizontalM: null, verticalM: null } as never;
  it('are compared point by point, and not in what they were asked', () => {
    for (const [before, after] of [
      [null, {}],
      [{}, null],
      [null, null],
    ] as const)
      expect(runComparison(side(before), side(after), PLAIN_CHECK, limits).differences).toEqual([]);
  });
});

describe('a site that is strained', () => {
  const factor = (isExceeded: boolean) => ({ isExceeded, estimate: 2, applied: 2, isFloored: false, low: 1, high: 3 });
  const of = (plan: boolean, height: boolean | null): boolean =>
    siteDoubts(
      {
        horizontal: { adjustment: { redundancy: 4 } },
        horizontalFactor: factor(plan),
        verticalFactor: height === null ? null : factor(height),
      } as never,
      { rows: [] } as never,
      { isUnusable: false },
      'control.csv',
    ).isStrained;
  it('is so in plan or in height', () => {
    expect([of(false, false), of(true, false), of(false, true), of(true, true), of(false, null)]).toEqual([
      ...[false, true, true, true, false],
    ]);
  });
});

describe('a line that nothing is worked of', () => {
  const geodesic = createGeodesic(WGS84);
  const from = { latitudeDeg: 10, longitudeDeg: 20 };
  const names = { from: 'A', to: 'B' } as never;
  const linesTo = (to: typeof from, flattening = WGS84.flattening): number =>
    geodesicLines(
      { ...WGS84, flattening },
      from,
      to,
      geodesic.inverse(10, 20, to.latitudeDeg, to.longitudeDeg).distanceM,
      names,
    ).length;
  it('is one on a sphere, of no length or over the 180th meridian', () => {
    expect(linesTo({ latitudeDeg: 10.1, longitudeDeg: 20.2 })).toBeGreaterThan(3);
    expect(linesTo({ latitudeDeg: 10.1, longitudeDeg: 20.2 }, 0)).toBe(0);
    expect(linesTo(from)).toBe(0);
    expect(linesTo({ latitudeDeg: 10, longitudeDeg: -170 })).toBe(0);
  });
});

describe('a row that is earlier than the one before', () => {
  const state = (own: object) =>
    ({ pointId: 'P', lastMs: 5000, alone: false, lastSourceIndex: 0, ...own }) as unknown as Parameters<
      typeof isOutOfOrder
    >[0];
  const fix = (own: Partial<Fix> = {}): Fix =>
    makeFix({ pointId: 'P', epochMs: 4000, place: { sourceIndex: 0, line: 3 }, ...own });
  it.each([
    [true, {}, {}],
    [false, { lastMs: null }, {}],
    [false, {}, { epochMs: null }],
    [false, { alone: true }, {}],
    [false, { pointId: 'Q' }, {}],
    [false, { lastSourceIndex: 1 }, {}],
    [false, {}, { epochMs: 5000 }],
    [false, { lastMs: 4000 }, {}],
  ])('is one (%s) after %j with %j', (isOne, before, own) => {
    expect(isOutOfOrder(state(before), fix(own))).toBe(isOne);
  });
});

it('a base that states one sigma is sure in the other axis', () => {
  const frame = localFrameAt(47, 15);
  const plan = baseCovariance(0.02, null, frame, frame);
  expect([plan.eeM2, plan.nnM2, plan.uuM2]).toEqual([
    ...[expect.closeTo(4e-4, 12), expect.closeTo(4e-4, 12), expect.closeTo(0, 12)],
  ]);
  const up = baseCovariance(null, 0.03, frame, frame);
  expect([up.eeM2, up.nnM2, up.uuM2]).toEqual([
    ...[expect.closeTo(0, 12), expect.closeTo(0, 12), expect.closeTo(9e-4, 12)],
  ]);
});
