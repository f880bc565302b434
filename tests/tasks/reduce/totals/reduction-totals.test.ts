import { describe, expect, it } from 'vitest';
import type { ReducedPoint } from '../../../../src/records/points/reduced-point.js';
import type { ProblemCode } from '../../../../src/records/codes/problem-codes.js';
import type { ReducedOccupation } from '../../../../src/tasks/reduce/reduction-working.js';
import { createReductionTotals } from '../../../../src/tasks/reduce/totals/reduction-totals.js';
import type { ReductionTotals } from '../../../../src/tasks/reduce/totals/reduction-totals.js';
import { seededRandom } from '../../../support/seeded-random.js';
import type { SeededRandom } from '../../../support/seeded-random.js';

const CODES: readonly ProblemCode[] = ['epoch-outlier', 'point-repeat-odd', 'point-horizontal-95'];

interface Made {
  readonly id: string;
  readonly verdict: ReducedPoint['verdict'];
  readonly times: readonly (number | null)[];
  /** Codes that refuse each epoch. */
  readonly refused: readonly (readonly ProblemCode[])[];
  readonly tiltDeg: number | null;
  readonly differenceM: number | null;
  readonly heightM: number | null;
  readonly line: { readonly distanceM: number; readonly heightDifferenceM: number } | null;
  readonly base: { readonly setupKey: string; readonly movedM: number; readonly shortcutErrorM: number | null } | null;
  readonly circle95M: number | null;
}

function made(random: SeededRandom, index: number): Made {
  const some = <T>(value: T): T | null => (random.next() < 0.7 ? value : null);
  const count = 1 + Math.floor(4 * random.next());
  const list = Array.from({ length: count }, (_, at) => at);
  return {
    id: `P${String(index)}`,
    verdict: (['accepted', 'review', 'rejected'] as const)[random.index(3)] ?? 'accepted',
    times: list.map((at) => some(Math.floor(1e6 * random.next()) + at)),
    refused: list.map(() => CODES.filter(() => random.next() < 0.3)),
    tiltDeg: some(Math.floor(4 * random.next())),
    differenceM: some(random.next()),
    heightM: some(700 + 50 * random.next()),
    line: some({ distanceM: 100 * random.next(), heightDifferenceM: 20 * (random.next() - 0.5) }),
    base: some({
      setupKey: String(random.index(3)),
      movedM: random.next(),
      shortcutErrorM: some(random.next()),
    }),
    circle95M: some(random.next()),
  };
}

/** An occupation as far as the totals look at it. */
function occupationOf({ id, verdict, times, refused, line, circle95M, ...own }: Made): ReducedOccupation {
  const used = refused.filter((codes) => codes.length === 0).length;
  return {
    point: {
      pointId: id,
      occupation: '1',
      verdict,
      reasons: refused[0] ?? [],
      epochsUsed: used,
      epochsRejected: refused.length - used,
      baseline: line,
      summary: circle95M === null ? null : { circle95M, vertical95M: 1 - circle95M },
    },
    working: {
      epochs: times.map((epochMs, at) => ({ fix: { epochMs }, refusals: refused[at] ?? [] })),
      reduced: [{ pole: own.tiltDeg === null ? null : { tiltDeg: own.tiltDeg } }],
      example: 0,
      mean: {},
      national: own.differenceM === null ? null : { differenceM: own.differenceM },
      position: own.heightM === null ? null : { geodetic: { ellipsoidalHeightM: own.heightM } },
      base:
        own.base === null
          ? null
          : {
              identity: { setupKey: own.base.setupKey, setupName: `base ${own.base.setupKey}` },
              correction: { magnitudeM: own.base.movedM },
            },
      shortcutErrorM: own.base?.shortcutErrorM ?? null,
    },
  } as unknown as ReducedOccupation;
}

function add(totals: ReductionTotals, all: readonly Made[]): void {
  for (const one of all) {
    const occupation = occupationOf(one);
    totals.addOccupation(occupation);
    totals.addPoint(occupation.point);
  }
}

function said(totals: ReductionTotals): unknown {
  const sorted = (counts: ReadonlyMap<string, number>): unknown => Object.fromEntries([...counts].sort());
  return structuredClone({
    points: totals.points,
    epochs: totals.epochs,
    refusals: sorted(totals.refusals),
    reasons: sorted(totals.reasons),
    noted: totals.noted,
    bases: Object.fromEntries([...totals.bases].sort()),
    span: totals.span(),
    extremes: [
      totals.farthest(),
      totals.frameDifference(),
      totals.worstCircle95(),
      totals.worstVertical95(),
      totals.greatestTilt(),
      totals.steepest(),
    ],
    heights: totals.heightEnds(),
  });
}

const days = (random: SeededRandom, count: number): readonly Made[] =>
  Array.from({ length: count }, (_, index) => made(random, index));

describe('the totals of a reduction', () => {
  it('are what one counts over all of its occupations', () => {
    const random = seededRandom(13);
    for (let run = 0; run < 60; run += 1) {
      const all = days(random, 1 + (run % 9));
      const totals = createReductionTotals();
      add(totals, all);
      /** The first of the largest. */
      const most = (of: (one: Made) => number | null): unknown => {
        const known = all.flatMap((one) => {
          const value = of(one);
          return value === null ? [] : [{ value, pointId: one.id }];
        });
        return [...known].sort((a, b) => b.value - a.value)[0] ?? null;
      };
      expect(totals.farthest()).toEqual(most(({ line }) => line?.distanceM ?? null));
      expect(totals.frameDifference()).toEqual(most(({ differenceM }) => differenceM));
      expect(totals.worstCircle95()).toEqual(most(({ circle95M }) => circle95M));
      expect(totals.worstVertical95()).toEqual(most(({ circle95M }) => (circle95M === null ? null : 1 - circle95M)));
      expect(totals.greatestTilt()).toEqual(most(({ tiltDeg }) => (tiltDeg === 0 ? null : tiltDeg)));
      // Nearer than fifty metres a base and a point may stand above one another.
      expect(totals.steepest()).toEqual(
        most(({ line }) =>
          line === null || line.distanceM < 50 ? null : Math.abs(line.heightDifferenceM) / line.distanceM,
        ),
      );
      const codes = all.flatMap(({ refused }) => refused.flat());
      for (const code of CODES)
        expect(totals.refusals.get(code) ?? 0).toBe(codes.filter((other) => other === code).length);
      const epochs = all.flatMap(({ refused }) => refused);
      const used = epochs.filter((own) => own.length === 0).length;
      expect(totals.epochs).toEqual({ used, refused: epochs.length - used });
      for (const verdict of ['accepted', 'review', 'rejected'] as const)
        expect(totals.points[verdict]).toBe(all.filter((one) => one.verdict === verdict).length);
      // From the first epoch of an occupation whose first and last are timed to the last one.
      const timed = all
        .map(({ times }) => [times[0] ?? null, times.at(-1) ?? null] as const)
        .filter((ends): ends is readonly [number, number] => ends[0] !== null && ends[1] !== null);
      expect(totals.span()).toEqual(
        timed.length === 0
          ? null
          : { firstMs: Math.min(...timed.map(([first]) => first)), lastMs: Math.max(...timed.map(([, last]) => last)) },
      );
      // Of each base the farthest point.
      for (const [key, effect] of totals.bases) {
        const own = all.filter(({ base, line }) => base?.setupKey === key && line !== null);
        const far = [...own].sort((a, b) => (b.line?.distanceM ?? 0) - (a.line?.distanceM ?? 0))[0];
        expect(effect).toEqual({
          baseId: `base ${key}`,
          movedM: far?.base?.movedM,
          shortcutErrorM: far?.base?.shortcutErrorM ?? 0,
          farthestM: far?.line?.distanceM,
        });
      }
    }
  });

  it('are the same of parts that are counted elsewhere and put together in order', () => {
    const random = seededRandom(14);
    for (let run = 0; run < 40; run += 1) {
      const all = days(random, 60 + (run % 5));
      const whole = createReductionTotals();
      add(whole, all);
      const joined = createReductionTotals();
      const counting = createReductionTotals();
      const cuts = [0, random.index(30), 30 + random.index(20), all.length];
      for (let part = 0; part < 3; part += 1) {
        add(counting, all.slice(cuts[part], cuts[part + 1]));
        joined.addPart(counting.take());
      }
      expect(said(joined)).toEqual(said(whole));
      // What was taken is counted no more.
      expect(said(counting)).toEqual(said(createReductionTotals()));
    }
  });

  it('note forty points that need a look, by their occupation or the place that is given', () => {
    const totals = createReductionTotals();
    const point = (index: number): ReducedPoint =>
      occupationOf({ ...made(seededRandom(1), index), verdict: 'review' }).point;
    totals.addPoint({ ...point(0), verdict: 'accepted' });
    totals.addPoint(point(1), 17);
    for (let index = 2; index < 60; index += 1) totals.addPoint(point(index));
    expect(totals.noted).toHaveLength(40);
    expect(totals.noted.slice(0, 2).map(({ pointId, occupation }) => [pointId, occupation])).toEqual([
      ['P1', '17'],
      ['P2', '1'],
    ]);
  });

  it('count a stand that all of them together put in doubt: once, and as no longer accepted', () => {
    const totals = createReductionTotals();
    const point = (verdict: ReducedPoint['verdict'], index: number): ReducedPoint => ({
      ...occupationOf({ ...made(seededRandom(1), index), verdict }).point,
      reasons: [],
    });
    totals.addPoint(point('accepted', 1));
    totals.addPoint(point('review', 2));
    const stand = { occupation: '1', reasons: ['point-repeat-disagrees'] } as const;
    totals.addDisputed([
      { ...stand, row: 0, pointId: 'P1', wasAccepted: true },
      { ...stand, row: 1, pointId: 'P2', wasAccepted: false },
    ]);
    expect(totals.points).toEqual({ accepted: 0, review: 2, rejected: 0 });
    expect([...totals.reasons]).toEqual([['point-repeat-disagrees', 2]]);
    expect(totals.noted.map(({ pointId, verdict, reasons }) => [pointId, verdict, ...reasons])).toEqual([
      ['P2', 'review', 'point-repeat-disagrees'],
      ['P1', 'review', 'point-repeat-disagrees'],
    ]);
  });
});
