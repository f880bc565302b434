import { describe, expect, it } from 'vitest';
import type { CorrectionAudit } from '../../../../src/records/corrections/correction-audit.js';
import type { LinkReport } from '../../../../src/records/corrections/link-report.js';
import type { Fix } from '../../../../src/records/points/fix.js';
import { createLinkCount } from '../../../../src/tasks/corrections/link/link-count.js';
import type { LinkSetting } from '../../../../src/tasks/corrections/link/link-count.js';
import { withSides } from '../../../../src/tasks/corrections/link/outage-sides.js';
import { seededRandom } from '../../../support/seeded-random.js';

const DAY_MS = Date.UTC(2026, 2, 4);
const PLAIN: LinkSetting = {
  limitS: 10,
  isLimitAssumed: false,
  ageRateMPerS: 0.001,
  minEpochs: 5,
  solution: ['fixed'],
  sigmaOf: () => ({ horizontalM: 0.01, verticalM: 0.02 }),
  toleranceHorizontalM: null,
  toleranceVerticalM: null,
};

/** A fix as far as the link looks at it. */
function fix(second: number | null, ageS: number | null, more: Partial<Fix> = {}): Fix {
  return {
    pointId: 'P',
    epochMs: second === null ? null : DAY_MS + second * 1000,
    correctionAgeS: ageS,
    solution: 'fixed',
    geodetic: { latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 0 },
    ...more,
  } as Fix;
}

function linkOf(fixes: readonly Fix[], setting: Partial<LinkSetting> = {}): LinkReport {
  const count = createLinkCount({ ...PLAIN, ...setting });
  count.begin('fixes.csv');
  for (const one of fixes) count.add(one);
  return count.result();
}

/** Ages as a link makes them: an epoch each `stepS` arrives `latencyS` late, none in the outages; seen each second. */
function simulated(
  seconds: number,
  stepS: number,
  latencyS: number,
  outages: readonly (readonly [number, number])[],
): readonly Fix[] {
  // Counted from what arrived, not from an age that is carried on: shares nothing with what is tested.
  const arrivals: { readonly made: number; readonly at: number }[] = [];
  for (let made = -stepS; made < seconds; made += stepS)
    if (!outages.some(([from, to]) => made >= from && made < to)) arrivals.push({ made, at: made + latencyS });
  return Array.from({ length: seconds }, (_, second) => {
    const latest = Math.max(...arrivals.filter(({ at }) => at <= second).map(({ made }) => made));
    return fix(second, second - latest);
  });
}

describe('the link of a day, simulated', () => {
  it('gives back latency, interval and outages of a hundred days', () => {
    const random = seededRandom(5);
    for (let round = 0; round < 100; round += 1) {
      const stepS = 1 + random.index(4);
      const latencyS = Math.round(random.between(0.2, 0.9) * 10) / 10;
      const first = 200 + random.index(200);
      const second = 900 + random.index(200);
      const planted = [
        [first, first + 20 + random.index(60)],
        [second, second + 20 + random.index(60)],
      ] as const;
      const { resets, outages, meanAgeS } = linkOf(simulated(1500, stepS, latencyS, planted));
      // Seen each second, the first age is the latency to the next second.
      if (stepS > 1) {
        expect(resets.leastTroughS).toBe(1);
        expect(resets.usualIntervalS).toBe(stepS);
      }
      expect(meanAgeS).toBeGreaterThan(0);
      expect(outages.listed).toHaveLength(2);
      for (const [index, [from, to]] of planted.entries()) {
        const found = outages.listed[index];
        // Corrections in use were made at the last epoch before the silence; the first good epoch is the first that arrived after it.
        const lastMade = Math.ceil(from / stepS) * stepS - stepS;
        const nextMade = Math.ceil(to / stepS) * stepS;
        expect(found?.silentFromMs).toBe(DAY_MS + lastMade * 1000);
        expect(found?.toMs).toBe(DAY_MS + (nextMade + 1) * 1000);
        expect(found?.fromMs).toBe(DAY_MS + (lastMade + 11) * 1000);
        expect(found?.isEnded).toBe(true);
      }
    }
  });
});

/** Silences of a stream, by their ends. */
function gaps(...listed: readonly (readonly [number, number])[]): object {
  return { gaps: { listed: listed.map(([fromMs, toMs]) => ({ fromMs, toMs })), leftOut: 0 } };
}

describe('outages', () => {
  it('are stretches without a fix too, and end where nobody looks any more', () => {
    const float = { solution: 'float' } as const;
    const { outages } = linkOf([
      fix(0, 1),
      ...[1, 2, 3, 4, 5, 6, 7].map((second) => fix(second, 1, { ...float, pointId: `P${String(second % 2)}` })),
      fix(8, 1),
      ...[9, 10, 11, 12].map((second) => fix(second, 1, float)),
      fix(13, 1),
      ...[20, 21, 22, 23, 24, 25, 26].map((second) => fix(second, 12)),
      ...[200, 201].map((second) => fix(second, 12)),
    ]);
    expect(
      outages.listed.map(({ fromMs, toMs, isEnded }) => [(fromMs - DAY_MS) / 1000, (toMs - DAY_MS) / 1000, isEnded]),
    ).toEqual([
      [1, 8, true],
      [20, 26, false],
    ]);
    expect(outages.listed[0]?.points.listed).toEqual(['P1', 'P0']);
  });

  it('are put down to the base where its stream was silent, to the rover where it went on, and else to neither', () => {
    const zeroMs = DAY_MS;
    const audit = {
      calendar: { zeroMs, dateFrom: 'option', leapSeconds: 18, leapFrom: 'table', statedOffS: null },
      files: [{ firstMs: 18_000, lastMs: 1_018_000 }],
      stations: [{ epochs: { firstMs: 18_000, lastMs: 1_018_000, ...gaps([118_000, 178_000]) } }],
    } as unknown as CorrectionAudit;
    const planted = [
      [101, 160],
      [400, 460],
      [1200, 1260],
    ] as const;
    const { outages } = withSides(linkOf(simulated(1500, 1, 0.5, planted)), audit);
    expect(outages.listed.map(({ side }) => side)).toEqual(['base', 'rover', 'unknown']);
    const undated = { ...audit, calendar: { ...audit.calendar, zeroMs: null } };
    const unknown = withSides(linkOf(simulated(1500, 1, 0.5, planted)), undated).outages.listed;
    expect(unknown.map(({ side }) => side)).toEqual(['unknown', 'unknown', 'unknown']);
  });

  it('are put down to no base that was not recorded then: between two files nobody knows', () => {
    const audit = {
      calendar: { zeroMs: DAY_MS, dateFrom: 'option', leapSeconds: 18, leapFrom: 'table', statedOffS: null },
      files: [
        { firstMs: 18_000, lastMs: 118_000 },
        { firstMs: 178_000, lastMs: 1_018_000 },
      ],
      stations: [{ epochs: { firstMs: 18_000, lastMs: 1_018_000, ...gaps([118_000, 178_000]) } }],
    } as unknown as CorrectionAudit;
    const { outages } = withSides(linkOf(simulated(300, 1, 0.5, [[101, 160]])), audit);
    expect(outages.listed.map(({ side }) => side)).toEqual(['unknown']);
  });

  it('are put down to neither where one of two stations was silent and the other went on', () => {
    const audit = {
      calendar: { zeroMs: DAY_MS, dateFrom: 'option', leapSeconds: 18, leapFrom: 'table', statedOffS: null },
      files: [{ firstMs: 18_000, lastMs: 1_018_000 }],
      stations: [
        { epochs: { firstMs: 18_000, lastMs: 1_018_000, ...gaps([118_000, 178_000]) } },
        { epochs: { firstMs: 18_000, lastMs: 1_018_000, ...gaps() } },
      ],
    } as unknown as CorrectionAudit;
    const { outages } = withSides(linkOf(simulated(300, 1, 0.5, [[101, 160]])), audit);
    expect(outages.listed.map(({ side }) => side)).toEqual(['unknown']);
  });

  it('are of no side where fresh corrections came all along, whatever a stream says', () => {
    const audit = {
      calendar: { zeroMs: DAY_MS, dateFrom: 'option', leapSeconds: 18, leapFrom: 'table', statedOffS: null },
      files: [{ firstMs: 18_000, lastMs: 1_018_000 }],
      stations: [{ epochs: { firstMs: 18_000, lastMs: 1_018_000, ...gaps() } }],
    } as unknown as CorrectionAudit;
    const stretch = (ages: readonly (number | null)[]): readonly string[] =>
      withSides(
        linkOf([fix(0, 1), ...ages.map((ageS, index) => fix(index + 1, ageS, { solution: 'float' })), fix(20, 1)]),
        audit,
      ).outages.listed.map(({ side }) => side);
    expect(stretch([1, 1, 1, 1, 1, 1])).toEqual(['none']);
    expect(stretch([1, 1, 1, null, 1, 1])).toEqual(['rover']);
    expect(stretch([9, 10, 11, 12, 13, 14])).toEqual(['rover']);
  });
});

describe('availability', () => {
  it('counts an epoch without corrections as none, and one without a stated age not at all', () => {
    const { hours, withAge, notFixed } = linkOf([
      fix(0, 1),
      fix(1, 4),
      fix(2, 9),
      fix(3, 30),
      fix(4, null, { solution: 'autonomous' }),
      fix(5, null),
    ]);
    expect(hours).toHaveLength(1);
    expect(hours[0]?.epochs).toBe(5);
    expect(hours[0]?.shares.map(({ count }) => count)).toEqual([1, 2, 3]);
    expect([withAge, notFixed]).toEqual([4, 1]);
  });

  it('keeps a stand in one cell', () => {
    const about = [0, 1e-8, -1e-8, 2e-8].map((off, second): Fix =>
      fix(second, 1, {
        geodetic: { latitudeDeg: -31.5 + off, longitudeDeg: 21.4 - off, ellipsoidalHeightM: 0 },
      }),
    );
    expect(linkOf(about).cells.listed.map(({ epochs }) => epochs)).toEqual([4]);
  });

  it('lays cells of 100 m, the first place in the middle of one', () => {
    // 100 m of latitude at 31.5° S is 0.000902 degrees on GRS 80. Source: COMPUTED, a (1 − e²) / (1 − e² sin² φ)^1.5.
    const at = (north: number, east: number): Partial<Fix> => ({
      geodetic: { latitudeDeg: -31.5 + north * 0.000902, longitudeDeg: 21.4 + east * 0.001053, ellipsoidalHeightM: 0 },
    });
    const { cells } = linkOf([
      fix(0, 1, at(0, 0)),
      fix(1, 1, at(0.4, 0.4)),
      fix(2, 20, at(0.6, 0.2)),
      fix(3, 1, at(-0.6, -0.2)),
    ]);
    expect(cells.listed.map(({ epochs, shares }) => [epochs, shares[2]?.count])).toEqual([
      [1, 1],
      [2, 2],
      [1, 0],
    ]);
    const [south] = cells.listed;
    expect(((south?.northDeg ?? 0) - (south?.southDeg ?? 0)) / 0.000902).toBeCloseTo(1, 3);
    expect(((south?.eastDeg ?? 0) - (south?.westDeg ?? 0)) / 0.001053).toBeCloseTo(1, 2);
  });
});

describe('what age cost', () => {
  const stand = (
    pointId: string,
    ages: readonly (number | null)[],
    solution: Fix['solution'] = 'fixed',
  ): readonly Fix[] => ages.map((ageS, index) => fix(index, ageS, { pointId, solution }));

  it('adds the age to the sigma as a stand has it: the rate times the mean age of what is kept', () => {
    const { cost } = linkOf(stand('A', [5, 5, 7, 7, 6, 30]));
    const [point] = cost.points.listed;
    expect(point).toMatchObject({ epochs: 6, kept: 5, lost: 1, meanAgeS: 6, sigmaHorizontalM: 0.01, passes: true });
    // √(10² + 6²) mm and √(20² + 6²) mm.
    expect(point?.sigmaHorizontalAgedM).toBeCloseTo(Math.sqrt(136) / 1000, 12);
    expect(point?.sigmaVerticalAgedM).toBeCloseTo(Math.sqrt(436) / 1000, 12);
  });

  it('names points of which nothing is left, and those that fresh corrections would have saved', () => {
    const { cost } = linkOf([
      ...stand('GONE', [20, 20, 20, 20, 20]),
      ...stand('FEW', [1, 1, 20, 20, 20]),
      ...stand('GOOD', [1, 1, 1, 1, 1]),
      ...stand('SHORT', [1, 1, 20]),
      ...stand('FLOAT', [1, 1, 1, 1, 1], 'float'),
    ]);
    expect(cost.lostEpochs).toBe(9);
    expect(cost.lostPoints).toEqual(['GONE']);
    expect(cost.rescuedPoints).toEqual(['GONE', 'FEW']);
  });

  it('holds the tolerance with the ages as they were, and with two seconds', () => {
    // 95 % of two like axes of √(10² + 9²) mm: 32.9 mm; of √(10² + 2²) mm: 25.0 mm.
    const ages = [9, 9, 9, 9, 9];
    const of = (toleranceHorizontalM: number): readonly boolean[] => {
      const [point] = linkOf(stand('A', ages), { toleranceHorizontalM }).cost.points.listed;
      return [point?.passes === true, point?.wouldPass === true];
    };
    expect(of(0.033)).toEqual([true, true]);
    expect(of(0.032)).toEqual([false, true]);
    expect(of(0.0249)).toEqual([false, false]);
  });
});
