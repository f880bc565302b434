import { describe, expect, it } from 'vitest';
import type { Fix } from '../../src/records/points/fix.js';
import type { ProblemCode } from '../../src/records/codes/problem-codes.js';
import type { EpochResult } from '../../src/records/points/reduced-point.js';
import { createEpochTimeline } from '../../src/tasks/reduce/epochs/epoch-timeline.js';
import { keepMostNeeded } from '../../src/tasks/repeats/keep-most-needed.js';

describe('keeping the most needed', () => {
  it('keeps the greatest needs, the earliest of equals, in the order they came', () => {
    const store = keepMostNeeded<string>(3);
    for (const [need, item] of [
      [0, 'a'],
      [0, 'b'],
      [2, 'c'],
      [0, 'd'],
      [1, 'e'],
      [2, 'f'],
    ] as const)
      store.add(need, item);
    expect(store.items()).toEqual(['c', 'e', 'f']);
  });

  it('says beforehand what it would not keep', () => {
    const store = keepMostNeeded<string>(1);
    expect(store.wants(0)).toBe(true);
    store.add(0, 'a');
    expect([store.wants(0), store.wants(1)]).toEqual([false, true]);
  });
});

describe('epochs over time', () => {
  const epoch = (epochMs: number | null, refusals: readonly ProblemCode[]): EpochResult => ({
    fix: { epochMs } as Fix,
    tip: { xM: 0, yM: 0, zM: 0 },
    refusals,
    weight: 1,
    residual: null,
  });

  it('loses none, however long the run', () => {
    const timeline = createEpochTimeline();
    for (let i = 0; i < 20_000; i += 1) timeline.add([epoch(i * 60_000, i % 10 === 0 ? ['epoch-pdop'] : [])]);
    const result = timeline.result(['epoch-pdop']);
    const sum = (counts: readonly number[] | undefined): number =>
      (counts ?? []).reduce((total, count) => total + count, 0);
    expect(result?.used.length).toBeLessThanOrEqual(240);
    expect([sum(result?.used), sum(result?.refused[0]?.counts)]).toEqual([18_000, 2000]);
  });

  it('puts an epoch where its time says, and is silent without times', () => {
    const timeline = createEpochTimeline();
    timeline.add([epoch(100_000, []), epoch(145_000, ['epoch-outlier']), epoch(null, [])]);
    expect(timeline.result(['epoch-outlier'])).toEqual({
      startMs: 100_000,
      binMs: 10_000,
      used: [1, 0, 0, 0, 0],
      refused: [{ code: 'epoch-outlier', counts: [0, 0, 0, 0, 1] }],
    });
    expect(createEpochTimeline().result([])).toBeNull();
  });
});
