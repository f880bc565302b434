import { describe, expect, it } from 'vitest';
import type { CorrectionAudit, Regularity } from '../../../../src/records/corrections/correction-audit.js';
import { intervalFindings } from '../../../../src/tasks/corrections/time/interval-findings.js';
import { createRegularity } from '../../../../src/tasks/corrections/time/regularity.js';

function regularityOf(times: readonly number[]): Regularity {
  const count = createRegularity();
  for (const ms of times) count.add(ms);
  return count.result();
}

describe('createRegularity', () => {
  it('counts times, intervals, gaps and steps back as a person would', () => {
    // Intervals: 1 s three times, 1.5 s, 1.501 s, then back by 4.001 s, 1 s. A gap is longer than one and a half times 1 s.
    expect(regularityOf([0, 1000, 2000, 3000, 4500, 6001, 2000, 3000])).toEqual({
      ...{ count: 8, firstMs: 0, lastMs: 3000, meanIntervalS: 7001 / 6 / 1000, usualIntervalS: 1, longestGapS: 1.501 },
      gaps: { listed: [{ fromMs: 4500, toMs: 6001 }], leftOut: 0 },
      stepsBack: 1,
    });
  });

  it('knows nothing of nothing, and no interval of one time', () => {
    const empty = { meanIntervalS: null, usualIntervalS: null, longestGapS: null, gaps: { listed: [], leftOut: 0 } };
    expect(regularityOf([])).toEqual({ count: 0, firstMs: null, lastMs: null, ...empty, stepsBack: 0 });
    expect(regularityOf([7])).toEqual({ count: 1, firstMs: 7, lastMs: 7, ...empty, stepsBack: 0 });
  });

  it('takes times less than 10 ms apart for one, forwards and back', () => {
    expect(regularityOf([0, 9, 1000, 991]).count).toBe(2);
    expect(regularityOf([0, 10]).count).toBe(2);
    expect(regularityOf([10, 0])).toMatchObject({ count: 2, stepsBack: 1 });
  });

  it('calls the shorter one usual where two intervals are met as often', () => {
    expect(regularityOf([0, 2000, 3000, 5000, 6000]).usualIntervalS).toBe(1);
    expect(regularityOf([0, 1000, 3000, 4000, 6000]).usualIntervalS).toBe(1);
    expect(regularityOf([0, 1000, 3000, 5000]).usualIntervalS).toBe(2);
  });

  it('lists the five hundred longest gaps by time, and counts the others', () => {
    const times = [0];
    for (let index = 0; index < 1600; index += 1)
      times.push((times.at(-1) ?? 0) + (index % 3 === 0 ? 5000 + 10 * index : 1000));
    const { gaps, longestGapS } = regularityOf(times);
    // 534 gaps; the first 34 are the shortest.
    expect([gaps.listed.length, gaps.leftOut, longestGapS]).toEqual([500, 34, 20.99]);
    expect(gaps.listed[0]).toEqual({ fromMs: times[102], toMs: times[103] });
    expect([...gaps.listed].sort((a, b) => a.fromMs - b.fromMs)).toEqual(gaps.listed);
  });
});

describe('intervalFindings', () => {
  const calendar = { zeroMs: null, dateFrom: null, leapSeconds: 18, leapFrom: 'table', statedOffS: null };
  const audit = (
    usualIntervalS: number | null,
    announcedIntervalS: number | null,
    stepS: number | null = 1,
    gaps: readonly (readonly [number, number])[] = [],
  ): CorrectionAudit =>
    ({
      calendar,
      stations: [
        {
          stationId: 7,
          epochs: {
            usualIntervalS: stepS,
            gaps: { listed: gaps.map(([fromMs, toMs]) => ({ fromMs, toMs })), leftOut: gaps.length > 2 ? 4 : 0 },
          },
        },
      ],
      messages: [{ stationId: 7, number: 1006, usualIntervalS, announcedIntervalS }],
    }) as unknown as CorrectionAudit;
  const said = (...of: Parameters<typeof audit>): readonly string[] =>
    intervalFindings(audit(...of)).map(({ code, message }) => `${code}: ${message}`);

  it('say which message keeps another interval than is announced, by more than a fifth and an epoch', () => {
    const off = ['stream-interval: station 7: message 1006 comes each 15.0 s and is announced each 10.0 s'];
    expect(said(15, 10)).toEqual(off);
    expect(said(12, 10)).toEqual([]);
    expect(said(12.5, 10)).toHaveLength(1);
    // Known to an epoch where it is not itself the interval of the epochs.
    expect(said(6, 5, 1)).toEqual([]);
    expect(said(6.5, 5, 1.5)).toEqual([]);
    expect(said(6.6, 5, 1.5)).toHaveLength(1);
    expect(said(1.5, 1, 1.5)).toHaveLength(1);
    expect(said(1.5, 1, null)).toHaveLength(1);
    expect([said(null, 10), said(10, null)]).toEqual([[], []]);
  });

  it('say how many gaps a station has, and the longest', () => {
    expect(said(null, null, 1, [[1000, 4500]])).toEqual([
      'stream-gap: station 7: 1 gap between epochs, the longest 3.5 s from Sun 00:00:01 GPS time',
    ]);
    expect(
      said(null, null, 1, [
        [1000, 4000],
        [100_000, 110_000],
        [200_000, 210_000],
      ]),
    ).toEqual(['stream-gap: station 7: 7 gaps between epochs, the longest 10.0 s from Sun 00:01:40 GPS time']);
  });
});
