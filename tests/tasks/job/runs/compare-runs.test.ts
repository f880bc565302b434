import { describe, expect, it } from 'vitest';
import { diagonalCovariance } from '../../../../src/core/observation/uncertainty/local-covariance.js';
import { movedShareLimits, shareOfOwn95 } from '../../../../src/core/quality/moved-share.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import type { CheckSetup } from '../../../../src/tasks/check/judge/check-tolerances-setup.js';
import { compareRuns } from '../../../../src/tasks/job/runs/compare-runs.js';
import type { MovementLimits, RunChange } from '../../../../src/tasks/job/runs/compare-runs.js';
import { comparisonAnswer, comparisonSummary } from '../../../../src/tasks/job/runs/comparison-summary.js';
import { pairRuns } from '../../../../src/tasks/job/runs/pair-runs.js';
import { PLAIN_CHECK, checkBase, pointRow } from '../../../support/check-setup.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';

/** A session whose base B1 is known without error, or with the sigma given. */
function withBase(sigmaM: number): CheckSetup {
  const mark = { horizontalM: sigmaM, verticalM: sigmaM };
  return { ...PLAIN_CHECK, bases: [checkBase('B1', { mark, setup: { horizontalM: 0, verticalM: 0 } })] };
}

const DAY_MS = 86_400_000;
const NO_LIMITS: MovementLimits = { horizontalM: null, verticalM: null };

function row(
  pointId: string,
  place: readonly [number, number, number],
  day: number,
  own: Partial<PointRow> = {},
): PointRow {
  return pointRow({
    pointId,
    occupation: '1',
    gridFirst: place[0],
    gridSecond: place[1],
    orthometricHeightM: place[2],
    baseId: 'B1',
    baselineM: 1000,
    baselineAzimuthDeg: 0,
    baselineHeightDifferenceM: 0,
    firstEpochMs: day * DAY_MS,
    lastEpochMs: day * DAY_MS + 60_000,
    sigmaEastM: 0.012,
    sigmaNorthM: 0.012,
    sigmaUpM: 0.02,
    verdict: 'accepted',
    place: { sourceIndex: 0, line: 1 },
    ...own,
  });
}

function only(changes: readonly RunChange[]): RunChange {
  const [first] = changes;
  if (first === undefined || changes.length !== 1) throw new Error(`${changes.length} changes`);
  return first;
}

describe('movedShareLimits and shareOfOwn95', () => {
  it.each(readReferenceTable('run-comparison').map((entry) => [entry.case, entry] as const))('gives %s', (_, entry) => {
    const input = entry.number('input');
    const quantities: Readonly<Record<string, () => number | null>> = {
      horizontal_limit: () => movedShareLimits(input).horizontal,
      vertical_limit: () => movedShareLimits(input).vertical,
      own_horizontal: () => {
        const variance = entry.number('sigma_m') ** 2;
        return shareOfOwn95(input, null, diagonalCovariance(variance, variance, variance)).horizontal;
      },
    };
    const found = quantities[entry.text('quantity')]?.();
    expect(Math.abs((found ?? NaN) - entry.number('expected'))).toBeLessThanOrEqual(entry.tolerance);
  });
});

describe('pairRuns', () => {
  const named = (pointId: string, occupation: string): PointRow => row(pointId, [0, 0, 0], 0, { occupation });

  it('pairs occupations by name, and a name that stands once in each whatever its occupation is called', () => {
    const pairs = pairRuns([named('A', '1'), named('A', '2'), named('B', '1')], [named('B', '1+2'), named('A', '2')]);
    expect(pairs.map(({ before, after }) => [before?.occupation ?? null, after?.occupation ?? null])).toEqual([
      ['1', '1+2'],
      ['2', '2'],
      ['1', null],
    ]);
  });
});

describe('compareRuns', () => {
  it('takes a movement of one set-up without the error of its mark, which both share', () => {
    // Each point 12 mm of which 11 are the mark's: what is left of the difference is 7 mm an axis.
    const pair = [[row('A', [0, 0, 0], 0)], [row('A', [0.04, 0, 0], 9)]] as const;
    const shared = only(compareRuns(...pair, withBase(0.011), NO_LIMITS));
    expect(shared).toMatchObject({
      change: 'moved',
      observations: 'other',
      verdict: 'no',
      reasons: ['run-point-moved'],
    });
    expect(Math.sqrt(shared.covariance?.eeM2 ?? 0)).toBeCloseTo(Math.sqrt(2 * (0.012 ** 2 - 0.011 ** 2) + 1e-8), 6);
    // The whole of it belongs to each occupation: 17 mm an axis, and 40 mm are no movement.
    expect(only(compareRuns(...pair, withBase(0), NO_LIMITS))).toMatchObject({ change: 'kept', verdict: 'within' });
  });

  it('leaves undecided what depends on the share of a set-up that is not known', () => {
    const change = only(compareRuns([row('A', [0, 0, 0], 0)], [row('A', [0.04, 0, 0], 9)], PLAIN_CHECK, NO_LIMITS));
    expect(change).toMatchObject({ change: 'undecided', verdict: 'review', reasons: ['check-setup-unknown'] });
    const far = only(compareRuns([row('A', [0, 0, 0], 0)], [row('A', [0.4, 0, 0], 9)], PLAIN_CHECK, NO_LIMITS));
    expect(far).toMatchObject({ change: 'moved', hasUnknownSetup: true });
  });

  it('judges the same observations by a tenth of their own 95 %', () => {
    const moved = (eastM: number): RunChange =>
      only(compareRuns([row('A', [0, 0, 0], 0)], [row('A', [eastM, 0, 0], 0)], PLAIN_CHECK, NO_LIMITS));
    // 0.1 × 2.4477 × 12 mm = 2.94 mm
    expect(moved(0.0029)).toMatchObject({ change: 'kept', observations: 'same', covariance: null });
    expect(moved(0.003)).toMatchObject({ change: 'moved' });
  });

  it.each<readonly [string, 'same' | 'other', Partial<PointRow>, Partial<PointRow>]>([
    ['at one time from one base', 'same', {}, {}],
    [
      'that begin as the others end',
      'same',
      { firstEpochMs: 0, lastEpochMs: 10 },
      { firstEpochMs: 10, lastEpochMs: 20 },
    ],
    [
      'that end as the others begin',
      'same',
      { firstEpochMs: 10, lastEpochMs: 20 },
      { firstEpochMs: 0, lastEpochMs: 10 },
    ],
    [
      'of which one lies within the other',
      'same',
      { firstEpochMs: 0, lastEpochMs: 30 },
      { firstEpochMs: 10, lastEpochMs: 20 },
    ],
    ['after the others', 'other', { firstEpochMs: 0, lastEpochMs: 10 }, { firstEpochMs: 11, lastEpochMs: 20 }],
    ['before the others', 'other', { firstEpochMs: 11, lastEpochMs: 20 }, { firstEpochMs: 0, lastEpochMs: 10 }],
    ['at one time from two bases', 'other', {}, { baseId: 'B2' }],
    ['without a time', 'other', { firstEpochMs: null }, {}],
    ['without an end', 'other', {}, { lastEpochMs: null }],
  ])('takes observations %s for %s ones', (_, expected, before, after) => {
    const changes = compareRuns(
      [row('A', [0, 0, 0], 0, before)],
      [row('A', [0, 0, 0], 0, after)],
      withBase(0),
      NO_LIMITS,
    );
    expect(only(changes).observations).toBe(expected);
  });

  it.each<readonly [string, RunChange['heightKind'], boolean, Partial<PointRow>, Partial<PointRow>]>([
    ['the geoid where both have it', 'orthometric', false, { ellipsoidalHeightM: 40 }, { ellipsoidalHeightM: 40 }],
    [
      'the ellipsoid where one lacks the other',
      'ellipsoidal',
      false,
      { ellipsoidalHeightM: 40 },
      { ellipsoidalHeightM: 40, orthometricHeightM: null },
    ],
    ['nothing where no kind is that of both', null, true, {}, { orthometricHeightM: null, ellipsoidalHeightM: 40 }],
    ['nothing where one has none', null, true, {}, { orthometricHeightM: null }],
    [
      'nothing where the other has none',
      null,
      true,
      { orthometricHeightM: null, ellipsoidalHeightM: 40 },
      { orthometricHeightM: null },
    ],
    [
      'nothing, and says nothing, where neither has any',
      null,
      false,
      { orthometricHeightM: null },
      { orthometricHeightM: null },
    ],
  ])('compares heights above %s', (_, kind, isSaid, before, after) => {
    const change = only(
      compareRuns([row('A', [0, 0, 0], 0, before)], [row('A', [0, 0, 0], 9, after)], withBase(0), NO_LIMITS),
    );
    expect([change.heightKind, change.upM === null]).toEqual([kind, kind === null]);
    expect(change.reasons).toEqual(isSaid ? ['check-axis-unjudged'] : []);
  });

  it('judges an axis that has a limit by it alone', () => {
    const limits = { horizontalM: 0.01, verticalM: null };
    const change = (place: readonly [number, number, number]): RunChange =>
      only(compareRuns([row('A', [0, 0, 0], 0)], [row('A', place, 9)], withBase(0), limits));
    expect(change([0.0101, 0, 0])).toMatchObject({ change: 'moved', reasons: ['check-horizontal-limit'] });
    expect(change([0.01, 0, 0])).toMatchObject({ change: 'kept', reasons: [] });
    expect(change([0, 0, 0.5])).toMatchObject({ change: 'moved', reasons: ['run-point-moved'] });
  });

  it('says what appeared, vanished, changed its verdict and cannot be judged', () => {
    const changes = compareRuns(
      [row('GONE', [0, 0, 0], 0), row('B', [1, 1, 1], 0), row('R', [2, 2, 2], 0), row('N', [3, 3, 3], 0)],
      [
        row('NEW', [0, 0, 0], 0),
        row('B', [1, 1, 1], 0, { verdict: 'review' }),
        row('R', [2, 2, 2], 0, { verdict: 'rejected', gridFirst: null, gridSecond: null, orthometricHeightM: null }),
        row('N', [3, 3, 3], 5, { sigmaEastM: null }),
      ],
      withBase(0),
      NO_LIMITS,
    );
    expect(changes.map(({ pointId, change, verdict, reasons }) => [pointId, change, verdict, ...reasons])).toEqual([
      ['NEW', 'appeared', 'review', 'run-point-appeared'],
      ['B', 'kept', 'review', 'run-verdict-changed'],
      ['R', 'kept', 'review', 'run-verdict-changed'],
      ['N', 'undecided', 'review', 'check-axis-unjudged'],
      ['GONE', 'vanished', 'review', 'run-point-vanished'],
    ]);
    expect(comparisonAnswer(changes)).toMatchObject({ answer: 'review' });
  });

  it('says how all moved together, which a few that moved alone do not pull', () => {
    const ids = Array.from({ length: 9 }, (_, index) => `P${index}`);
    const before = ids.map((id, index) => row(id, [index, 0, 0], 0));
    const after = ids.map((id, index) => row(id, [index + (id === 'P3' ? 0.5 : 0.012), -0.004, 0.02], 0));
    const { common, largest } = comparisonSummary(compareRuns(before, after, PLAIN_CHECK, NO_LIMITS));
    expect(common?.eastM).toBeCloseTo(0.012, 9);
    expect(common?.northM).toBeCloseTo(-0.004, 9);
    expect(common?.upM).toBeCloseTo(0.02, 9);
    expect(common?.leftHorizontalM).toBeCloseTo(0.488, 9);
    expect(common?.leftVerticalM).toBeCloseTo(0, 9);
    const lifted = ids.map((id, index) => row(id, [index, 0, id === 'P7' ? -0.3 : 0.02], 0));
    const vertical = comparisonSummary(compareRuns(before, lifted, PLAIN_CHECK, NO_LIMITS));
    expect(vertical.common?.leftVerticalM).toBeCloseTo(0.32, 9);
    expect(vertical.largest[1]).toMatchObject({ figure: 'vertical_difference_m', at: 'P7' });
    expect(vertical.largest[1]?.value).toBeCloseTo(0.3, 9);
    expect(largest[0]).toMatchObject({ figure: 'horizontal_difference_m', at: 'P3' });
  });

  it('raises an alarm in 1 % of 1,000 comparisons of 20 points that did not move', () => {
    const random = seededRandom(1414);
    const setup = withBase(0);
    const drawn = (id: string, day: number): PointRow =>
      row(id, [0.012 * random.normal(), 0.012 * random.normal(), 0.02 * random.normal()], day);
    let alarms = 0;
    for (let run = 0; run < 1000; run += 1) {
      const ids = Array.from({ length: 20 }, (_, index) => String(index));
      const changes = compareRuns(
        ids.map((id) => drawn(id, 0)),
        ids.map((id) => drawn(id, 30)),
        setup,
        NO_LIMITS,
      );
      if (changes.some(({ change }) => change === 'moved')) alarms += 1;
    }
    // Binomial with p = 0.01: 10 with a standard deviation of 3.1.
    expect(alarms).toBeGreaterThanOrEqual(1);
    expect(alarms).toBeLessThanOrEqual(22);
  });
});
