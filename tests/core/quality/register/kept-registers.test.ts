import { describe, expect, it } from 'vitest';
import { judgeRegister } from '../../../../src/core/quality/register/judge-register.js';
import type { AxisFinding } from '../../../../src/core/quality/register/judge-register.js';
import type { RegisterSeries } from '../../../../src/core/quality/register/register-series.js';
import { theilSenInterval } from '../../../../src/core/quality/register/theil-sen-interval.js';
import { seededRandom } from '../../../support/seeded-random.js';

// Regression, kept whole: charts, steps and slopes of five invented registers to six digits. Whether they are right is what
// register.test.ts holds.

interface Shape {
  readonly days: number;
  readonly markM2: readonly (number | null)[];
  readonly baseM2: readonly number[];
  readonly sharedM2?: number;
  readonly seen?: (mark: number, day: number) => boolean;
  readonly move?: (mark: number, base: number, day: number) => number;
}

function register(seed: number, { days, markM2, baseM2, sharedM2 = 4e-6, seen, move }: Shape): RegisterSeries {
  const random = seededRandom(seed);
  return {
    markM2,
    baseM2,
    epochs: Array.from({ length: days }, (_, day) => {
      const base = day % baseM2.length;
      return {
        base,
        sharedM2: sharedM2 * (1 + (day % 3)),
        rows: markM2.flatMap((_m2, mark) => {
          const residualM = 0.006 * random.normal() + (move?.(mark, base, day) ?? 0);
          return seen?.(mark, day) === false ? [] : [{ mark, residualM, ownM2: (30 + 7 * mark + day) * 1e-6 }];
        }),
      };
    }),
  };
}

const REGISTERS: Readonly<Record<string, readonly RegisterSeries[]>> = {
  'a mark that moves': [
    register(1, {
      ...{ days: 8, markM2: [2e-5, null, 3e-5], baseM2: [1e-4, 2e-4] },
      ...{ seen: (mark, day) => mark !== 2 || day % 3 > 0, move: (mark, _, day) => (mark === 1 && day > 3 ? 0.05 : 0) },
    }),
    register(2, { days: 8, markM2: [2e-5, null, 3e-5], baseM2: [1e-4, 2e-4] }),
  ],
  'a base that moves': [
    register(3, {
      ...{ days: 9, markM2: [2e-5, 5e-5], baseM2: [1e-4, 2e-4] },
      move: (_, base, day) => (base === 1 && day > 4 ? -0.06 : 0),
    }),
  ],
  'moved on the last day': [
    register(4, {
      days: 5,
      markM2: [1e-5, 1e-5],
      baseM2: [1e-5],
      move: (mark, _, day) => (mark + day === 4 ? 0.09 : 0),
    }),
  ],
  'a chart that crosses by creeping': [
    register(5, {
      days: 14,
      markM2: [1e-5, 1e-5],
      baseM2: [1e-5],
      move: (mark, _, day) => (mark === 0 ? 0.0012 * day : 0),
    }),
  ],
  'one mark alone': [
    register(6, { days: 4, markM2: [null], baseM2: [0], sharedM2: 0, move: (_, __, day) => (day > 1 ? 0.1 : 0) }),
  ],
};

const digits = (value: number | null): string =>
  value === null ? '-' : Math.abs(value) < 1e-9 ? '0' : value.toPrecision(6).replace(/\.?0+(?=e|$)/u, '');

const textOf = ({ charts, state, suspects }: AxisFinding): string =>
  [
    state,
    ...suspects.map(
      ({ what, index, from, epochs, sizeM, sigmaM, gain }) =>
        `  ${what} ${String(index)} from ${String(from)}, ${String(epochs)} epochs: ${digits(sizeM)} ± ${digits(sigmaM)}, gain ${digits(gain)}`,
    ),
    ...charts.flatMap(({ what, index, epochs, values, chart: { steps, signal } }) => [
      `  ${what} ${String(index)}: epochs ${epochs.join(' ')}; z ${values.map(digits).join(' ')}`,
      `    up ${steps.map(({ upper }) => digits(upper)).join(' ')}; down ${steps.map(({ lower }) => digits(lower)).join(' ')}${signal === null ? '' : `; ${signal.direction} at ${String(signal.at)} since ${String(signal.began)}`}`,
    ]),
  ].join('\n');

describe('what a register says, as it was', () => {
  it.each(Object.entries(REGISTERS))('%s', async (name, axes) => {
    const findings = judgeRegister(axes) ?? [];
    expect(findings).toHaveLength(axes.length);
    await expect(`${findings.map(textOf).join('\n')}\n`).toMatchFileSnapshot(
      `./registers/${name.replaceAll(/[, ]+/gu, '-')}.txt`,
    );
  });
});

describe('a slope of many values', () => {
  // Brute force that shares nothing: all slopes sorted, and the orders of n values counted one by one.
  const inversionsOf = (order: readonly number[]): number =>
    order.reduce((sum, value, j) => sum + order.slice(0, j).filter((before) => before > value).length, 0);
  const orders = (values: readonly number[]): readonly (readonly number[])[] =>
    values.length < 2
      ? [values]
      : values.flatMap((value, at) => orders(values.filter((_, own) => own !== at)).map((rest) => [value, ...rest]));

  it.each([
    [5, 0.8],
    [6, 0.95],
    [7, 0.9],
    [7, 0.99],
    [8, 0.95],
  ])('of %d has the narrowest interval of at least %d', (n, confidence) => {
    const random = seededRandom(n);
    const times = Array.from({ length: n }, (_, i) => i + 0.05 * random.normal());
    const values = times.map((time) => 0.2 * time + random.normal());
    const slopes = times
      .flatMap((time, j) => times.slice(0, j).map((other, i) => (values[j]! - values[i]!) / (time - other)))
      .sort((a, b) => a - b);
    const counts = orders(Array.from({ length: n }, (_, i) => i)).map(inversionsOf);
    const most = (m: number): number => counts.filter((count) => count <= m).length / counts.length;
    let left = -1;
    while (most(left + 1) <= (1 - confidence) / 2 + 1e-12) left += 1;
    const found = theilSenInterval(times, values, confidence);
    expect(found?.interval?.low).toBe(slopes[left]);
    expect(found?.interval?.high).toBe(slopes[slopes.length - 1 - left]);
    expect(found?.interval?.confidence).toBeCloseTo(1 - 2 * most(left), 12);
    expect(found?.slope).toBe((slopes[(slopes.length - 1) >> 1]! + slopes[slopes.length >> 1]!) / 2);
  });
});
