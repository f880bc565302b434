import { describe, expect, it } from 'vitest';
import { wilsonInterval } from '../../../../src/core/corrections/wilson-interval.js';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../../src/core/ellipsoid/geodesic.js';
import type { LinkOutage, LinkReport } from '../../../../src/records/corrections/link-report.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import { createLinkCount } from '../../../../src/tasks/corrections/link/link-count.js';
import type { LinkSetting } from '../../../../src/tasks/corrections/link/link-count.js';
import { linkFindings } from '../../../../src/tasks/corrections/link/link-findings.js';

// Whole reports, each figure counted by hand from the few epochs beside it. A minute begins at second 0, an hour at 0 too.
const START_MS = Date.UTC(2026, 2, 4, 7);
const PLACE = { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 0 };
const SETTING: LinkSetting = {
  limitS: 10,
  isLimitAssumed: false,
  ageRateMPerS: 0.001,
  minEpochs: 3,
  solution: ['fixed'],
  sigmaOf: () => ({ horizontalM: 0.01, verticalM: 0.02 }),
  toleranceHorizontalM: null,
  toleranceVerticalM: null,
};

function fix(second: number | null, ageS: number | null, more: Partial<Fix> = {}): Fix {
  const epochMs = second === null ? null : START_MS + Math.round(second * 1000);
  return { pointId: 'P', epochMs, correctionAgeS: ageS, solution: 'fixed', geodetic: PLACE, ...more } as Fix;
}

function reportOf(fixes: readonly Fix[], setting: Partial<LinkSetting> = {}): LinkReport {
  const count = createLinkCount({ ...SETTING, ...setting });
  count.begin('day.csv');
  for (const one of fixes) count.add(one);
  return count.result();
}

const FLOAT = { solution: 'float' } as const;
const share = (ageS: number, count: number, of: number): object => ({
  ...{ ageS, count, share: count / of },
  ...wilsonInterval(count, of),
});

describe('the report of a link', () => {
  it('is counted as a person would count it', () => {
    const report = reportOf([
      fix(0, 1),
      fix(1, 10),
      fix(2, 10.5),
      fix(3, 3),
      fix(70, null, { solution: 'autonomous' }),
      fix(71, 2, FLOAT),
    ]);
    const { cells, cost, hours, ...rest } = report;
    expect(rest).toEqual({
      epochs: 6,
      notFixed: 2,
      withAge: 5,
      aboveLimit: 1,
      meanAgeS: 26.5 / 5,
      leastAgeS: 1,
      largestAgeS: 10.5,
      limitS: 10,
      isLimitAssumed: false,
      // From 10.5 to 3 at second 3, from 3 to 2 at second 71.
      resets: {
        count: 2,
        meanPeakS: 6.75,
        meanTroughS: 2.5,
        leastTroughS: 2,
        meanIntervalS: 68,
        usualIntervalS: 68,
      },
      outages: { listed: [], leftOut: 0 },
      minutes: {
        listed: [
          { fromMs: START_MS, epochs: 4, bad: 1, leastAgeS: 1, largestAgeS: 10.5 },
          { fromMs: START_MS + 60_000, epochs: 2, bad: 2, leastAgeS: 2, largestAgeS: 2 },
        ],
        leftOut: 0,
      },
    });
    const shares = [share(2, 2, 6), share(5, 3, 6), share(10, 4, 6)];
    expect(hours).toEqual([{ fromMs: START_MS, epochs: 6, shares }]);
    expect(cells.leftOut).toBe(0);
    expect(cells.listed.map(({ epochs, shares: own }) => ({ epochs, shares: own }))).toEqual([{ epochs: 6, shares }]);
    const aged = 0.001 * (14 / 3);
    expect(cost).toEqual({
      ageRateMPerS: 0.001,
      lostEpochs: 1,
      lostPoints: [],
      rescuedPoints: [],
      points: {
        listed: [
          {
            pointId: 'P',
            epochs: 6,
            kept: 3,
            lost: 1,
            meanAgeS: 14 / 3,
            sigmaHorizontalM: 0.01,
            sigmaHorizontalAgedM: Math.hypot(0.01, aged),
            sigmaVerticalM: 0.02,
            sigmaVerticalAgedM: Math.hypot(0.02, aged),
            passes: true,
            wouldPass: true,
          },
        ],
        leftOut: 0,
      },
    });
  });

  it('says nothing of what no epoch states', () => {
    const { meanAgeS, leastAgeS, largestAgeS, withAge, resets, hours, cells, minutes, cost } = reportOf(
      [fix(null, null), fix(60, null)],
      { sigmaOf: () => null },
    );
    expect([meanAgeS, leastAgeS, largestAgeS, withAge]).toEqual([null, null, null, 0]);
    expect(resets).toEqual({
      ...{ count: 0, meanPeakS: null, meanTroughS: null, leastTroughS: null },
      ...{ meanIntervalS: null, usualIntervalS: null },
    });
    expect([hours, cells.listed]).toEqual([[], []]);
    expect(minutes.listed).toEqual([
      { fromMs: START_MS + 60_000, epochs: 1, bad: 0, leastAgeS: null, largestAgeS: null },
    ]);
    expect(cost.points.listed).toEqual([
      {
        ...{ pointId: 'P', epochs: 2, kept: 2, lost: 0, meanAgeS: null, sigmaHorizontalM: null },
        ...{ sigmaHorizontalAgedM: null, sigmaVerticalM: null, sigmaVerticalAgedM: null },
        ...{ passes: false, wouldPass: false },
      },
    ]);
  });

  it('knows hours and minutes by their first millisecond', () => {
    const { hours, minutes } = reportOf([fix(3599.999, 1), fix(3600, 1), fix(59.999, 1), fix(60, 1)]);
    expect(hours.map(({ fromMs, epochs }) => [fromMs - START_MS, epochs])).toEqual([
      [0, 3],
      [3_600_000, 1],
    ]);
    expect(minutes.listed.map(({ fromMs }) => (fromMs - START_MS) / 60_000)).toEqual([0, 1, 59, 60]);
  });

  it('counts an age that is the limit within it', () => {
    const { hours } = reportOf([fix(0, 2), fix(1, 5), fix(2, 10), fix(3, 10.001)]);
    expect(hours[0]?.shares.map(({ count }) => count)).toEqual([1, 2, 3]);
  });

  it('lays the first place in the middle of a square of 100 m, by the geodesic', () => {
    const [cell] = reportOf([fix(0, 1)]).cells.listed;
    const { southDeg, westDeg, northDeg, eastDeg } = cell ?? { southDeg: 0, westDeg: 0, northDeg: 0, eastDeg: 0 };
    const geodesic = createGeodesic(GRS80);
    const apart = (from: readonly [number, number], to: readonly [number, number]): number =>
      geodesic.inverse(from[0], from[1], to[0], to[1]).distanceM;
    expect(apart([southDeg, 21.4], [northDeg, 21.4])).toBeCloseTo(100, 4);
    expect(apart([-31.5, westDeg], [-31.5, eastDeg])).toBeCloseTo(100, 4);
    expect((southDeg + northDeg) / 2).toBeCloseTo(-31.5, 12);
    expect((westDeg + eastDeg) / 2).toBeCloseTo(21.4, 12);
    // Two cells to the north and one to the west.
    const far = { ...PLACE, latitudeDeg: -31.5 + 2 * (northDeg - southDeg), longitudeDeg: 21.4 - (eastDeg - westDeg) };
    const { listed } = reportOf([fix(0, 1), fix(1, 1, { geodetic: far })]).cells;
    expect(listed).toHaveLength(2);
    expect(((listed[1]?.southDeg ?? 0) + (listed[1]?.northDeg ?? 0)) / 2).toBeCloseTo(far.latitudeDeg, 12);
    expect(((listed[1]?.westDeg ?? 0) + (listed[1]?.eastDeg ?? 0)) / 2).toBeCloseTo(far.longitudeDeg, 12);
  });
});

describe('an outage', () => {
  const outagesOf = (fixes: readonly Fix[]): readonly LinkOutage[] => reportOf(fixes).outages.listed;

  it('lasts longer than five seconds, from its first epoch to the first good one', () => {
    const until = (end: number): number => outagesOf([fix(0, 11), fix(1, 12), fix(end, 1)]).length;
    expect([until(5), until(5.001)]).toEqual([0, 1]);
  });

  it('is told whole', () => {
    const elsewhere = { ...PLACE, latitudeDeg: -31 };
    expect(
      outagesOf([
        fix(10, 1),
        fix(20, 11),
        fix(21, 12, { pointId: 'Q', geodetic: elsewhere }),
        fix(22, 9, FLOAT),
        fix(26, 2),
        fix(100, 1, FLOAT),
        fix(106, 3, FLOAT),
      ]),
    ).toEqual([
      {
        ...{ source: 'day.csv', fromMs: START_MS + 20_000, toMs: START_MS + 26_000, isEnded: true },
        silentFromMs: START_MS + 9000,
        ...{ latitudeDeg: -31.5, longitudeDeg: 21.4, epochs: 3, largestAgeS: 12 },
        points: { listed: ['P', 'Q'], leftOut: 0 },
        side: 'unknown',
      },
      {
        ...{ source: 'day.csv', fromMs: START_MS + 100_000, toMs: START_MS + 106_000, isEnded: false },
        silentFromMs: START_MS + 99_000,
        ...{ latitudeDeg: -31.5, longitudeDeg: 21.4, epochs: 2, largestAgeS: 3 },
        points: { listed: ['P'], leftOut: 0 },
        side: 'none',
      },
    ]);
  });

  it('falls apart where a minute is missing, where time steps back and where a file begins', () => {
    const lengths = (fixes: readonly Fix[]): readonly number[] =>
      outagesOf(fixes).map(({ fromMs, toMs }) => (toMs - fromMs) / 1000);
    expect(lengths([fix(0, 11), fix(6, 11), fix(66, 11)])).toEqual([66]);
    expect(lengths([fix(0, 11), fix(6, 11), fix(66.001, 11), fix(74, 11)])).toEqual([6, 7.999]);
    expect(lengths([fix(100, 11), fix(106, 11), fix(0, 11), fix(7, 11)])).toEqual([6, 7]);
    const count = createLinkCount(SETTING);
    for (const [source, from] of [
      ['a.csv', 0],
      ['b.csv', 20],
    ] as const) {
      count.begin(source);
      count.add(fix(from, null, FLOAT));
      count.add(fix(from + 6, null, FLOAT));
    }
    expect(
      count.result().outages.listed.map(({ source, silentFromMs, epochs }) => [source, silentFromMs, epochs]),
    ).toEqual([
      ['a.csv', null, 2],
      ['b.csv', null, 2],
    ]);
  });

  it('lists fifty points and counts each other one', () => {
    const [outage] = outagesOf(
      Array.from({ length: 53 }, (_, index) => fix(index / 4, 11, { pointId: `P${String(Math.min(index, 51))}` })),
    );
    expect(outage?.points.listed).toHaveLength(50);
    expect(outage?.points.leftOut).toBe(3);
  });
});

describe('what age cost a point', () => {
  it('fails one with fewer epochs than asked, and passes one with as many', () => {
    const passes = (count: number): readonly boolean[] => {
      const [point] = reportOf(Array.from({ length: count }, (_, second) => fix(second, 1))).cost.points.listed;
      return [point?.passes === true, point?.wouldPass === true];
    };
    expect([passes(2), passes(3)]).toEqual([
      [false, false],
      [true, true],
    ]);
  });

  it('holds height and plan by 95 %: 1.960 and 2.448 sigma', () => {
    // Sigma with an age of 0 s is as it was: 10 mm and 20 mm.
    const verdict = (tolerances: Partial<LinkSetting>): boolean | undefined =>
      reportOf(
        [0, 1, 2].map((second) => fix(second, 0)),
        tolerances,
      ).cost.points.listed[0]?.passes;
    expect([0.02448, 0.02447].map((toleranceHorizontalM) => verdict({ toleranceHorizontalM }))).toEqual([true, false]);
    expect([0.0392, 0.03919].map((toleranceVerticalM) => verdict({ toleranceVerticalM }))).toEqual([true, false]);
    expect(verdict({ toleranceHorizontalM: 0.03, toleranceVerticalM: 0.03 })).toBe(false);
  });
});

describe('findings of a link', () => {
  const report = (outages: readonly Partial<LinkOutage>[], cost: Partial<LinkReport['cost']>): LinkReport =>
    ({
      outages: { listed: outages, leftOut: outages.length > 1 ? 2 : 0 },
      cost: { lostEpochs: 0, lostPoints: [], rescuedPoints: [], ...cost },
      limitS: 10,
      isLimitAssumed: false,
    }) as unknown as LinkReport;

  it('name the longest outage, and how many are put down to which side', () => {
    const out = (from: number, to: number, side: LinkOutage['side']): Partial<LinkOutage> => ({
      ...{ fromMs: START_MS + from * 1000, toMs: START_MS + to * 1000 },
      side,
    });
    expect(
      linkFindings(report([out(0, 6, 'base'), out(10, 30.5, 'rover'), out(40, 50, 'base'), out(60, 67, 'none')], {})),
    ).toEqual([
      {
        severity: 'warning',
        code: 'link-outage',
        message:
          '6 outages, the longest 20.5 s from 2026-03-04T07:00:10Z; base 2, rover 1, with fresh corrections 1, not known 0',
      },
    ]);
    expect(linkFindings(report([out(0, 6, 'unknown')], {}))[0]?.message).toBe(
      '1 outage, the longest 6.0 s from 2026-03-04T07:00:00Z; base 0, rover 0, with fresh corrections 0, not known 1',
    );
  });

  it('name five points, and count the others', () => {
    const points = ['A', 'B', 'C', 'D', 'E', 'F', 'G'];
    expect(linkFindings(report([], { lostEpochs: 1, lostPoints: ['A'] })).map(({ message }) => message)).toEqual([
      '1 epoch older than 10.0 s; nothing is left of A',
    ]);
    expect(
      linkFindings(report([], { lostEpochs: 9, lostPoints: points, rescuedPoints: points.slice(0, 5) })).map(
        ({ message, code }) => [code, message],
      ),
    ).toEqual([
      [
        'link-age-cost',
        '9 epochs older than 10.0 s; nothing is left of A, B, C, D, E and 2 more; would pass with fresh corrections: A, B, C, D, E',
      ],
    ]);
    expect(linkFindings(report([], {}))).toEqual([]);
  });
});
