import { describe, expect, it } from 'vitest';
import { choleskyFactor, choleskySolve } from '../../../../src/core/numeric/linear-solve.js';
import { MOVED_LEVEL } from '../../../../src/core/quality/decision-levels.js';
import { CUSUM_ALLOWANCE, CUSUM_LIMIT, cusumChart } from '../../../../src/core/quality/register/cusum-chart.js';
import { judgeRegister } from '../../../../src/core/quality/register/judge-register.js';
import type { AxisFinding } from '../../../../src/core/quality/register/judge-register.js';
import { inversionTail } from '../../../../src/core/quality/register/kendall-tail.js';
import { searchMovements } from '../../../../src/core/quality/register/movement-search.js';
import { registerInnovations } from '../../../../src/core/quality/register/register-innovations.js';
import type { RegisterSeries } from '../../../../src/core/quality/register/register-series.js';
import { theilSenInterval } from '../../../../src/core/quality/register/theil-sen-interval.js';
import { present } from '../../../../src/records/present.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';
import type { ReferenceRow } from '../../../support/read-reference-table.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';

const named = (quantities: readonly string[]): (readonly [string, ReferenceRow])[] =>
  readReferenceTable('registers')
    .filter((row) => quantities.includes(row.text('quantity')))
    .map((row) => [row.case, row] as const);

describe('cusumChart', () => {
  it.each(named(['upper-sum', 'lower-sum']))('has the sums of %s', (_, row) => {
    const values = row.numbers('values').map((value) => value - row.number('target'));
    const h = row.number('h');
    const sums = row.numbers('expected');
    const { steps, signal } = cusumChart(values, row.number('k'), h);
    const side = row.text('quantity') === 'upper-sum' ? 'upper' : 'lower';
    expect(steps).toHaveLength(sums.length);
    for (const [i, sum] of sums.entries())
      expect(Math.abs((steps[i]?.[side] ?? NaN) - sum)).toBeLessThanOrEqual(row.tolerance);
    const first = sums.findIndex((sum) => sum > h);
    if (first >= 0) expect(signal?.at).toBe(first);
    // Turned over, the sums change sides.
    const turned = cusumChart(
      values.map((value) => -value),
      row.number('k'),
      h,
    );
    expect(turned.steps.map(({ upper, lower }) => [lower, upper])).toEqual(
      steps.map(({ upper, lower }) => [upper, lower]),
    );
  });

  it('says where the change began: after the sum was last zero', () => {
    // The example of the handbook changes at its thirteenth value and signals at its fourteenth.
    const [, row] = named(['upper-sum'])[0] as readonly [string, ReferenceRow];
    const values = row.numbers('values').map((value) => value - 325);
    expect(cusumChart(values, 0.3175, 4.1959).signal).toEqual({ at: 13, direction: 'up', began: 12 });
  });

  it('keeps its sums over a day without a value', () => {
    const { steps } = cusumChart([3, null, 3]);
    expect(steps[1]).toEqual(steps[0]);
  });

  it.each(named(['run-length']))('runs as long as %s says', (_, row) => {
    const random = seededRandom(20261129);
    const shift = row.number('shift');
    const lengths = Float64Array.from({ length: shift === 0 ? 6000 : 20000 }, () => runLength(random, row, shift));
    const mean = lengths.reduce((sum, length) => sum + length, 0) / lengths.length;
    const square = lengths.reduce((sum, length) => sum + (length - mean) ** 2, 0) / lengths.length;
    expect(Math.abs(mean - row.number('expected'))).toBeLessThan(
      3.3 * Math.sqrt(square / lengths.length) + row.tolerance,
    );
  });
});

/** Values until a chart of normal ones signals. A chart is drawn again with more where the first did not do. */
function runLength(random: SeededRandom, row: ReferenceRow, shift: number): number {
  const values: number[] = [];
  for (let count = shift === 0 ? 600 : 60; ; count *= 8) {
    while (values.length < count) values.push(random.normal() + shift);
    const { signal } = cusumChart(values, row.number('k'), row.number('h'));
    if (signal !== null) return signal.at + 1;
  }
}

describe('theilSenInterval', () => {
  it.each(named(['slope', 'slope-low', 'slope-high']))('gives the %s', (_, row) => {
    const found = theilSenInterval([1, 2, 3, 4, 5], row.numbers('values'), row.number('shift'));
    const value =
      row.text('quantity') === 'slope'
        ? found?.slope
        : row.text('quantity') === 'slope-low'
          ? found?.interval?.low
          : found?.interval?.high;
    expect(Math.abs((value ?? NaN) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    // The confidence that goes with it, from memory: 0.916.
    expect(found?.interval?.confidence).toBeCloseTo(0.9167, 4);
  });

  it.each(named(['kendall-tail']))('knows the %s', (_, row) => {
    const [n = 0, most = 0] = row.numbers('values');
    expect(Math.abs((inversionTail(n)[most] ?? NaN) - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
  });

  it('has a tail that rises to 1, half in the middle', () => {
    const tail = inversionTail(30);
    expect(tail).toHaveLength(436);
    expect(tail[435]).toBeCloseTo(1, 12);
    expect(((tail[216] ?? 0) + (tail[218] ?? 0)) / 2).toBeCloseTo(0.5, 9);
  });

  it('takes two values and 2000, no fewer and no more, and as many of both', () => {
    const line = (count: number): readonly number[] => Array.from({ length: count }, (_, i) => i);
    expect(theilSenInterval([0], [0], 0.95)).toBeNull();
    expect(theilSenInterval(line(2), [0, 3], 0.95)?.slope).toBe(3);
    expect(theilSenInterval(line(2), [0, 3, 4], 0.95)).toBeNull();
    expect(theilSenInterval(line(2000), line(2000), 0.95)?.slope).toBe(1);
    expect(theilSenInterval(line(2001), line(2001), 0.95)).toBeNull();
  });

  it('gives no interval of 95 % to four values, and none at all to times that repeat', () => {
    const four = theilSenInterval([1, 2, 3, 4], [1, 2, 3, 5], 0.95);
    expect(four?.slope).toBeCloseTo(7 / 6, 12);
    expect(four?.interval).toBeNull();
    expect(theilSenInterval([1, 2, 2], [1, 2, 3], 0.95)).toBeNull();
  });

  it('holds the slope in at least the stated share of runs', () => {
    const random = seededRandom(7);
    const times = [0, 1, 2, 5, 6, 9, 12, 13];
    let held = 0;
    const runs = 4000;
    for (let run = 0; run < runs; run += 1) {
      const interval = theilSenInterval(
        times,
        times.map((time) => 0.3 * time + random.normal()),
        0.95,
      )?.interval;
      if (interval != null && interval.low <= 0.3 && interval.high >= 0.3) held += 1;
    }
    // At least: of the levels that Kendall’s S has, the next one above.
    expect(held / runs).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.05 * 0.95) / runs));
  });
});

const judged = (axes: readonly RegisterSeries[]): readonly AxisFinding[] => judgeRegister(axes) ?? [];

/** An invented register: marks of 5 mm control, bases of 10 mm, set-ups of 2 mm, rows of 8 mm. */
function drawn(
  random: SeededRandom,
  { days, marks, bases = 1 }: { readonly days: number; readonly marks: number; readonly bases?: number },
  move: (mark: number, base: number, day: number) => number = () => 0,
  seen: (mark: number, day: number) => boolean = () => true,
): RegisterSeries {
  const markOffsets = Array.from({ length: marks }, () => 0.005 * random.normal());
  const baseOffsets = Array.from({ length: bases }, () => 0.01 * random.normal());
  return {
    markM2: markOffsets.map(() => 0.005 ** 2),
    baseM2: baseOffsets.map(() => 0.01 ** 2),
    epochs: Array.from({ length: days }, (_, day) => {
      const base = day % bases;
      const setup = 0.002 * random.normal();
      return {
        base,
        sharedM2: 0.002 ** 2,
        rows: markOffsets.flatMap((offset, mark) =>
          seen(mark, day)
            ? [
                {
                  mark,
                  ownM2: 0.008 ** 2,
                  residualM:
                    offset + (baseOffsets[base] ?? 0) + setup + 0.008 * random.normal() + move(mark, base, day),
                },
              ]
            : [],
        ),
      };
    }),
  };
}

describe('registerInnovations', () => {
  it('gives values of mean 0 and variance 1, independent from day to day, while nothing moves', () => {
    const random = seededRandom(3);
    const sums = { count: 0, mean: 0, square: 0, next: 0 };
    for (let run = 0; run < 400; run += 1) {
      const all = registerInnovations(
        drawn(random, { days: 8, marks: 3, bases: 2 }, undefined, (mark, day) => mark === 0 || day % 3 > 0),
      );
      const chains = [all.map(({ base }) => base), all.flatMap(({ marks }) => (marks[0] == null ? [] : [marks[0]]))];
      for (const chain of chains)
        for (const [i, z] of chain.entries()) {
          sums.count += 1;
          sums.mean += z;
          sums.square += z * z;
          sums.next += i === 0 ? 0 : z * (chain[i - 1] ?? 0);
        }
    }
    const sigma = 1 / Math.sqrt(sums.count);
    expect(Math.abs(sums.mean / sums.count)).toBeLessThan(3.3 * sigma);
    expect(Math.abs(sums.square / sums.count - 1)).toBeLessThan(3.3 * Math.SQRT2 * sigma);
    expect(Math.abs(sums.next / sums.count)).toBeLessThan(3.3 * sigma);
  });

  // Textbook: innovations are the residuals made independent, so that their squares add up to what the full covariance gives.
  it('adds up to the weighted square of the residuals, of marks that come and go over two bases', () => {
    const marks = [0, 1, 2, 0, 1, 2, 1, 0];
    const bases = [0, 1, 0, 1, 1, 0, 0, 1];
    const residuals = [3, -1, 4, 1, -5, 9, -2, 6].map((value) => value / 1000);
    const markM2 = [4e-6, 9e-6, 1e-6];
    const baseM2 = [2e-6, 5e-6];
    const series: RegisterSeries = {
      markM2,
      baseM2,
      epochs: marks.map((mark, i) => ({
        base: bases[i] ?? 0,
        sharedM2: 3e-6,
        rows: [{ mark, residualM: residuals[i] ?? 0, ownM2: (1 + i) * 1e-6 }],
      })),
    };
    const size = marks.length;
    const covariance = Float64Array.from({ length: size * size }, (_, at) => {
      const [i, j] = [Math.floor(at / size), at % size];
      return (
        (i === j ? 3e-6 + (1 + i) * 1e-6 : 0) +
        (marks[i] === marks[j] ? (markM2[marks[i] ?? 0] ?? 0) : 0) +
        (bases[i] === bases[j] ? (baseM2[bases[i] ?? 0] ?? 0) : 0)
      );
    });
    const factor = present(choleskyFactor(covariance, size), 'a factor');
    const solved = choleskySolve(factor, size, Float64Array.from(residuals));
    const expected = residuals.reduce((sum, value, i) => sum + value * (solved[i] ?? NaN), 0);
    const found = registerInnovations(series).reduce((sum, { base }) => sum + base * base, 0);
    expect(found / expected).toBeCloseTo(1, 9);
  });

  it('does not tell a mark from the base where it is alone', () => {
    const one = registerInnovations(drawn(seededRandom(1), { days: 2, marks: 1 }));
    expect(one.map(({ marks }) => marks)).toEqual([[null], [null]]);
  });

  it('takes the first day for the place of a mark whose sigma nobody states', () => {
    const series: RegisterSeries = {
      markM2: [null],
      baseM2: [0],
      epochs: [0.5, 0.5, 0.508].map((residualM) => ({
        base: 0,
        sharedM2: 0,
        rows: [{ mark: 0, residualM, ownM2: 1e-6 }],
      })),
    };
    const [first, second, third] = registerInnovations(series).map(({ base }) => base);
    expect(Math.abs(first ?? NaN)).toBeLessThan(0.06);
    expect(second).toBeCloseTo(0, 5);
    // 8 mm from the mean of two days: 8 / √(1 + ½).
    expect(third).toBeCloseTo(8 / Math.sqrt(1.5), 4);
  });
});

describe('searchMovements', () => {
  it('finds the step that was put in: which, from when, how large', () => {
    const random = seededRandom(11);
    const series = drawn(random, { days: 12, marks: 4 }, (mark, _, day) => (mark === 2 && day >= 7 ? 0.03 : 0));
    const [best] = searchMovements(series).best;
    expect(best).toMatchObject({ what: 'mark', index: 2, from: 7, epochs: 5 });
    expect(Math.abs((best?.sizeM ?? 0) - 0.03)).toBeLessThan(3.3 * (best?.sigmaM ?? 0));
  });

  it('has the gain and the sigma of least squares with the step as an unknown', () => {
    // Two days of one mark, nothing known of its place: the step is the difference, with the variance of both.
    const series: RegisterSeries = {
      markM2: [null],
      baseM2: [0],
      epochs: [0.01, 0.05].map((residualM) => ({
        base: 0,
        sharedM2: 0,
        rows: [{ mark: 0, residualM, ownM2: 1e-4 }],
      })),
    };
    const [best] = searchMovements(series).best;
    expect(best?.sizeM).toBeCloseTo(0.04, 6);
    expect(best?.sigmaM).toBeCloseTo(Math.sqrt(2e-4), 6);
    expect(best?.gain).toBeCloseTo(0.0016 / 2e-4, 4);
  });

  it('does not take a mark that is wrong from its first day on for one that moved', () => {
    const series = drawn(seededRandom(5), { days: 10, marks: 3 }, (mark) => (mark === 0 ? 1 : 0));
    expect(judged([{ ...series, markM2: [null, null, null] }])[0]?.state).toBe('still');
  });
});

describe('judgeRegister', () => {
  const AXES = [0, 1, 2];

  it('names the mark where one mark moves, and the base where all do', () => {
    const random = seededRandom(17);
    const counts = { mark: 0, base: 0, day: 0, other: 0 };
    for (let run = 0; run < 100; run += 1) {
      const [mark] = judged([
        drawn(random, { days: 15, marks: 4 }, (own, _, day) => (own === 1 && day >= 8 ? 0.03 : 0)),
      ]);
      const [base] = judged([drawn(random, { days: 15, marks: 4 }, (_, __, day) => (day >= 8 ? 0.03 : 0))]);
      for (const [finding, what] of [
        [mark, 'mark'],
        [base, 'base'],
      ] as const) {
        const named = finding?.suspects.length === 1 ? finding.suspects[0] : undefined;
        if (finding?.state === 'moved' && named?.what === what && (what === 'base' || named.index === 1)) {
          counts[what] += 1;
          if (Math.abs(named.from - 8) <= 1) counts.day += 1;
        } else if (named !== undefined && named.what !== what && finding?.state === 'moved') counts.other += 1;
      }
    }
    // 3 cm over a noise of 8 mm, seven days long: found in nearly all, in the right day give or take one.
    expect(counts.mark).toBeGreaterThanOrEqual(95);
    expect(counts.base).toBeGreaterThanOrEqual(95);
    expect(counts.day).toBeGreaterThanOrEqual(180);
    expect(counts.other).toBeLessThanOrEqual(1);
  });

  it('does not hold the step of the mark that moved against the others', () => {
    // Four marks and one base over twelve days with rows of 5 mm; the first mark lies 60 mm higher from the seventh day on.
    const random = seededRandom(29);
    const noise = (): number => 0.005 * random.normal();
    const epochs = Array.from({ length: 12 }, (_, day) => ({
      base: 0,
      sharedM2: 1e-6,
      rows: Array.from({ length: 4 }, (_, mark) => ({
        mark,
        residualM: noise() + (mark === 0 && day >= 6 ? 0.06 : 0),
        ownM2: 25e-6,
      })),
    }));
    const series = { epochs, markM2: [4e-6, 4e-6, 4e-6, 4e-6], baseM2: [4e-6] };
    const [axis] = present(judgeRegister([series]), 'a verdict');
    expect(axis?.state).toBe('moved');
    expect(axis?.suspects.map(({ what, index }) => [what, index])).toEqual([['mark', 0]]);
    const crossed = axis?.charts.filter(({ chart }) => chart.signal !== null).map(({ what, index }) => [what, index]);
    expect(crossed).toEqual([['mark', 0]]);
    // With a second mark that moves by as much the other way, both are seen.
    const two = epochs.map((epoch, day) => ({
      ...epoch,
      rows: epoch.rows.map((row) => (row.mark === 2 && day >= 3 ? { ...row, residualM: row.residualM - 0.05 } : row)),
    }));
    const [both] = present(judgeRegister([{ ...series, epochs: two }]), 'a verdict');
    const seen = both?.charts.filter(({ chart, what }) => chart.signal !== null && what === 'mark');
    expect(seen?.map(({ index }) => index)).toEqual(expect.arrayContaining([0, 2]));
  });

  it('says of one mark alone that it or the base moved', () => {
    const [finding] = judged([drawn(seededRandom(2), { days: 12, marks: 1 }, (_, __, day) => (day >= 6 ? 0.05 : 0))]);
    expect(finding?.state).toBe('moved');
    expect(finding?.suspects.map(({ what }) => what).sort()).toEqual(['base', 'mark']);
  });

  it('says that what stands on the last day alone was seen once', () => {
    const [finding] = judged([
      drawn(seededRandom(2), { days: 12, marks: 3 }, (mark, __, day) => (mark === 0 && day === 11 ? 0.1 : 0)),
    ]);
    expect(finding?.state).toBe('moved-once');
    expect(finding?.suspects[0]).toMatchObject({ what: 'mark', index: 0, from: 11, epochs: 1 });
  });

  it('says of one set-up that it is off where the next is as before: a pole a decimetre shorter than typed', () => {
    // Invented: six days of four marks seen from one base; on the fourth all lie 0.1 m lower. Truth: -0.1 m, that day alone.
    const random = seededRandom(31);
    const runs = 60;
    const counts = { base: 0, mark: 0, held: 0 };
    for (let run = 0; run < runs; run += 1) {
      const [base] = judged([drawn(random, { days: 6, marks: 4 }, (_, __, day) => (day === 3 ? -0.1 : 0))]);
      const [mark] = judged([
        drawn(random, { days: 6, marks: 4 }, (own, __, day) => (own === 2 && day === 3 ? -0.1 : 0)),
      ]);
      for (const [finding, what] of [
        [base, 'base'],
        [mark, 'mark'],
      ] as const) {
        const first = finding?.suspects[0];
        if (finding?.state !== 'off-once' || first?.what !== what || first.kind !== 'alone' || first.from !== 3)
          continue;
        counts[what] += 1;
        if (Math.abs(first.sizeM + 0.1) < 1.96 * first.sigmaM) counts.held += 1;
      }
    }
    expect(counts.base).toBeGreaterThanOrEqual(0.95 * runs);
    expect(counts.mark).toBeGreaterThanOrEqual(0.95 * runs);
    // Its interval of 95 % holds the truth in 95 %.
    expect(counts.held / (2 * runs)).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / (2 * runs)));
  });

  it('finds the first set-up off where the control says how the marks lie, and names both readings where nobody says it', () => {
    const series = drawn(seededRandom(5), { days: 8, marks: 4 }, (_, __, day) => (day === 0 ? 0.1 : 0));
    const [known] = judged([{ ...series, baseM2: [1e-6] }]);
    expect([known?.state, known?.suspects.map(({ kind, from }) => [kind, from])]).toEqual(['off-once', [['alone', 0]]]);
    // Of a base whose place nobody knows, the first day may be off, or all that follow.
    const [unknown] = judged([{ ...series, baseM2: [100] }]);
    expect(unknown?.state).toBe('moved');
    expect(unknown?.suspects.map(({ what, kind, from }) => [what, kind, from]).sort()).toEqual([
      ['base', 'alone', 0],
      ['base', 'step', 1],
    ]);
  });

  it('has the gain and the sigma of least squares with one day as an unknown', () => {
    // Three days of one mark, known exactly, as is its base: the second day's displacement is its residual, with its own variance.
    const series: RegisterSeries = {
      markM2: [1e-14],
      baseM2: [0],
      epochs: [0, 0.05, 0].map((residualM) => ({ base: 0, sharedM2: 0, rows: [{ mark: 0, residualM, ownM2: 1e-4 }] })),
    };
    const [best] = searchMovements(series).best;
    expect(best).toMatchObject({ kind: 'alone', from: 1, epochs: 1 });
    expect([best?.sizeM, best?.sigmaM, best?.gain]).toEqual([
      expect.closeTo(0.05, 9),
      expect.closeTo(0.01, 9),
      expect.closeTo(25, 5),
    ]);
  });

  it('says that something moved where nothing did in no more runs than stated', () => {
    const random = seededRandom(23);
    const runs = 600;
    let moved = 0;
    let crossed = 0;
    for (let run = 0; run < runs; run += 1) {
      const states = judged(AXES.map(() => drawn(random, { days: 12, marks: 4 }))).map(({ state }) => state);
      if (states.some((state) => state !== 'still' && state !== 'chart-crossed')) moved += 1;
      else if (states.includes('chart-crossed')) crossed += 1;
    }
    expect(moved / runs).toBeLessThan(MOVED_LEVEL + 3 * Math.sqrt(MOVED_LEVEL / runs));
    // Fifteen charts of twelve days: about one run in three has a chart that crosses, which is for review and no more.
    expect(crossed / runs).toBeGreaterThan(0.1);
    expect(crossed / runs).toBeLessThan(0.5);
  });

  it('does not begin a search that would take minutes', () => {
    expect(judgeRegister([drawn(seededRandom(4), { days: 41, marks: 50 })])).toBeNull();
  });

  it('has the allowance and the limit that the page states', () => {
    expect([CUSUM_ALLOWANCE, CUSUM_LIMIT]).toEqual([0.5, 5]);
  });
});
