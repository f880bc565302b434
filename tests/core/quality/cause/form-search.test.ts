import { describe, expect, it } from 'vitest';
import { chiSquareQuantile } from '../../../../src/core/numeric/distributions/chi-square.js';
import type { CauseContext } from '../../../../src/core/quality/cause/cause-context.js';
import { CAUSE_COUNT } from '../../../../src/core/quality/cause/cause-ids.js';
import { chanceOfDrop } from '../../../../src/core/quality/cause/cause-level.js';
import type { CauseModel } from '../../../../src/core/quality/cause/cause-model.js';
import {
  isAlike,
  openFirst,
  rankCauses,
  rms,
  searchForms,
  without,
} from '../../../../src/core/quality/cause/form-search.js';
import type { Found } from '../../../../src/core/quality/cause/form-search.js';
import { causeContext, causePoint } from './hypotheses/a-day.js';

// Least squares of one size is the mean; χ² falls by n·mean². Penalties: docs/methods/likely-cause.md, "The choice".
const close = (value: number): unknown => expect.closeTo(value, 9);
/** Four points with these residuals in east; sigma is 1 m, so that nothing is whitened. */
const day = (...east: readonly number[]): CauseContext =>
  causeContext(east.map((eastM, index) => causePoint(`P${String(index)}`, { eastM })));
const TENS = day(10, 10, 10, 10);
const pattern = (east: number, north = 0, count = 4): Float64Array =>
  Float64Array.from({ length: 3 * count }, (_, i) => (i % 3 === 0 ? east : i % 3 === 1 ? north : 0));
const model = (own: Partial<CauseModel> = {}): CauseModel => ({
  cause: 'datum',
  subject: 'all east',
  fixed: null,
  columns: [pattern(1)],
  isWhitened: true,
  choices: 1,
  read: ([size = 0], [sigma = 0]) => [{ name: 'east', value: size, sigma, unit: 'm' }],
  ...own,
});
const search = (context: CauseContext, ...models: readonly CauseModel[]) => searchForms([() => models], context);
const only = (context: CauseContext, own: Partial<CauseModel> = {}): Found | undefined =>
  search(context, model(own)).found[0];
const chance = (own: Partial<Parameters<typeof chanceOfDrop>[0]>): number =>
  chanceOfDrop({
    drop: 400,
    chiSquareAfter: 0,
    values: 12,
    unknowns: 1,
    hasFixed: false,
    choices: 1,
    isNoiseEstimated: false,
    ...own,
  });
const penaltyOf = (unknowns: number, choices = 1): number =>
  unknowns * Math.log(12) + 2 * Math.log(choices) + 2 * Math.log(CAUSE_COUNT);

describe('a form of a cause, held against residuals', () => {
  it('has its size and sigma, what it leaves, and its gain less what its freedom and choice cost', () => {
    const found = only(day(12, 8, 12, 8), { choices: 3 });
    expect(found?.finding).toMatchObject({
      cause: 'datum',
      subject: 'all east',
      estimates: [{ name: 'east', value: close(10), sigma: close(0.5), unit: 'm' }],
      chiSquareAfter: close(16),
      rmsAfterM: close(Math.sqrt(16 / 12)),
      gain: close(400 - penaltyOf(1, 3)),
      chance: close(chance({ chiSquareAfter: 16, choices: 3 })),
      isOpen: true,
      explains: true,
      alsoFits: [],
      stand: null,
    });
    expect(found?.penalty).toBeCloseTo(penaltyOf(1, 3), 12);
    expect(found?.unknowns).toBe(1);
    expect([...(found?.rest ?? [])]).toEqual([2, 0, 0, -2, 0, 0, 2, 0, 0, -2, 0, 0].map(close));
  });

  it('of stated size estimates nothing, and is taken off first where sizes are estimated beside it', () => {
    const stated = only(TENS, { fixed: pattern(9), columns: [], read: () => [] });
    // Before 4·10², after 4·1².
    expect(stated?.finding).toMatchObject({ chiSquareAfter: close(4), gain: close(396 - penaltyOf(0)) });
    expect(stated?.finding.chance).toBeCloseTo(
      chance({ drop: 396, chiSquareAfter: 4, unknowns: 0, hasFixed: true }),
      12,
    );
    const both = only(TENS, { fixed: pattern(4) });
    expect(both?.finding.estimates[0]?.value).toBeCloseTo(6, 9);
    expect(both?.finding.chance).toBeCloseTo(chance({ hasFixed: true }), 12);
  });

  it('is whitened where it is not yet', () => {
    const { whitener } = TENS;
    const halved: CauseContext = {
      ...TENS,
      whitener: {
        ...whitener,
        whiten: (vector) => vector.map((value) => value / 2),
        colour: (vector) => vector.map((value) => 2 * value),
      },
    };
    expect(only(halved, { isWhitened: false })?.finding.estimates[0]?.value).toBeCloseTo(20, 9);
    expect(only(halved)?.finding.estimates[0]?.value).toBeCloseTo(10, 9);
    expect(only({ ...halved, values: day(12, 8, 12, 8).values })?.finding.rmsAfterM).toBeCloseTo(
      2 * Math.sqrt(16 / 12),
      9,
    );
  });

  it('is dropped where it gains nothing, cannot be fitted, or is beyond its cause', () => {
    const looked = search(
      TENS,
      model({ columns: [pattern(0, 1)] }),
      model({ columns: [pattern(0)] }),
      model({ read: () => null }),
      model(),
    );
    expect(looked.tested).toBe(4);
    expect(looked.found).toHaveLength(1);
    // A drop just above and just below what the form costs.
    const size = Math.sqrt(penaltyOf(1) / 4);
    expect(only(day(size + 0.01, size + 0.01, size + 0.01, size + 0.01))).toBeDefined();
    expect(only(day(size - 0.01, size - 0.01, size - 0.01, size - 0.01))).toBeUndefined();
  });

  it('costs what its sizes are implausible by', () => {
    const found = only(TENS, { implausibility: ([size = 0]) => 3 * size });
    expect(found?.penalty).toBeCloseTo(penaltyOf(1) + 30, 9);
    expect(only(TENS, { implausibility: () => 400 })).toBeUndefined();
  });

  it('keeps of its drop the share that is beyond an ordinary size: σ²/(σ² + o²), larger on a noisy day', () => {
    // The sigma of the size is a half: of an ordinary size of 1 a fifth is left, of 2 on a day twice as noisy a seventeenth.
    const drop = (share: number): number => chance({ drop: 400 * share, chiSquareAfter: 0 });
    expect(only(TENS, { ordinary: [1] })?.finding.chance).toBeCloseTo(drop(0.25 / 1.25), 12);
    const noisy: CauseContext = { ...day(12, 8, 12, 8), noiseFactor: 2 };
    expect(only(noisy, { ordinary: [1] })?.finding.chance).toBeCloseTo(
      chance({ drop: (400 * 0.25) / 4.25, chiSquareAfter: 16, isNoiseEstimated: true }),
      12,
    );
  });

  it.each([
    // χ² of what is left, by its quantile with 12 − 1 degrees of freedom: 0.1 % is no noise any more, 2 % is loud.
    ['of a quiet day', chiSquareQuantile(0.979, 11), true, false],
    ['of a loud day', chiSquareQuantile(0.981, 11), true, true],
    ['of a very loud day', chiSquareQuantile(0.9989, 11), true, true],
    ['of no noise', chiSquareQuantile(0.9991, 11), false, false],
  ])('leaves noise or not, and is judged by it: %s', (_, left, explains, isNoiseEstimated) => {
    const size = Math.sqrt(left / 4);
    const { finding } = only(day(10 + size, 10 - size, 10 + size, 10 - size)) ?? {};
    expect(finding?.chiSquareAfter).toBeCloseTo(left, 9);
    expect(finding?.explains).toBe(explains);
    expect(finding?.chance).toBeCloseTo(chance({ chiSquareAfter: left, isNoiseEstimated }), 12);
  });

  it('that has as many sizes as there are values leaves nothing to judge by', () => {
    const two = causeContext([
      causePoint('A', { eastM: 50, upM: null }),
      causePoint('B', { eastM: null, northM: null, upM: null }),
    ]);
    const columns = [Float64Array.of(1, 0), Float64Array.of(0, 1)];
    expect(search(two, model({ columns })).found[0]?.finding.explains).toBe(false);
    expect(search(two, model({ columns: columns.slice(0, 1) })).found[0]?.finding.explains).toBe(true);
  });
});

describe('a day once a finding is taken off', () => {
  it('has its known part off its values, and its unknowns fitted with those of the next', () => {
    const first = present(only(day(10, 10, 10, 2), { columns: [], fixed: pattern(4), read: () => [] }));
    const rest = without(day(10, 10, 10, 2), first);
    expect([...rest.values].filter((_, i) => i % 3 === 0)).toEqual([6, 6, 6, -2]);
    expect(rest.taken).toEqual([]);
    // All east, then the last point alone: the mean of the others, and what the last differs by.
    const mean = present(only(day(10, 10, 10, 2)));
    const left = without(day(10, 10, 10, 2), mean);
    expect([...left.values].filter((_, i) => i % 3 === 0)).toEqual([2, 2, 2, -6].map(close));
    const last = Float64Array.from({ length: 12 }, (_, i) => (i === 9 ? 1 : 0));
    const second = only(left, { subject: 'the last', columns: [last] });
    expect(second?.finding.estimates[0]?.value).toBeCloseTo(-8, 9);
    expect(second?.finding.chiSquareAfter).toBeCloseTo(0, 9);
    // χ² before is that of what was left, 3·2² + 6², with one value fewer to judge by.
    expect(second?.finding.chance).toBeCloseTo(chance({ drop: 48, values: 11 }), 12);
    // The same again says nothing of it any more.
    expect(only(left)).toBeUndefined();
    expect(only(day(10, 10, 10, 2))).toBeDefined();
  });
});

const present = (found: Found | undefined): Found => {
  if (found === undefined) throw new Error('nothing was found');
  return found;
};

describe('the best form of each cause', () => {
  const found = (cause: string, subject: string, gain: number, isOpen = true): Found =>
    ({ finding: { cause, subject, gain, isOpen, alsoFits: [] } }) as unknown as Found;
  it('is the one that gains most, open before what chance explains', () => {
    const ranked = rankCauses([
      found('zone', 'a', 5),
      found('datum', 'b', 9, false),
      found('zone', 'c', 8),
      found('feet', 'd', 7),
      found('datum', 'e', 2, false),
      found('epoch', 'f', 3),
    ]);
    expect(ranked.map(({ finding }) => finding.subject)).toEqual(['c', 'd', 'f', 'b']);
    expect(openFirst(ranked)?.finding.subject).toBe('c');
    expect(openFirst(rankCauses([found('datum', 'b', 9, false)]))).toBeUndefined();
    expect(openFirst([])).toBeUndefined();
  });
  it('names others within 2 of its gain, three at most, each once, and not itself', () => {
    const [best] = rankCauses([
      found('zone', 'best', 10),
      found('zone', 'near', 8.01),
      found('zone', 'not', 8),
      found('zone', 'best', 9.9),
      found('zone', 'near', 9),
      found('zone', 'b', 9.1),
      found('zone', 'c', 9.2),
      found('zone', 'd', 8.5),
    ]);
    expect(best?.finding.alsoFits).toEqual(['c', 'b', 'near']);
  });
});

describe('causes that residuals cannot tell apart', () => {
  const one = (own: Partial<Found['finding']>, rest: readonly number[] = [0, 0], unknowns = 1): Found =>
    ({
      finding: { cause: 'datum', gain: 100, explains: true, stand: null, chiSquareAfter: 10, ...own },
      unknowns,
      rest: Float64Array.from(rest),
    }) as unknown as Found;
  const first = one({});
  it.each([
    ['within 2 in gain', first, one({ gain: 98.01 }, [9, 9]), true],
    ['2 apart in gain', first, one({ gain: 98 }, [9, 9]), false],
    ['within 2, and one does not explain', first, one({ gain: 99, explains: false }), false],
    ['within 2, and neither explains', one({ explains: false }), one({ gain: 99, explains: false }, [9, 9]), true],
    ['of one pattern', first, one({ gain: 91 }, [1.9, 0.6]), true],
    ['of patterns 2 sigmas apart', first, one({ gain: 91 }, [2, 0]), false],
    ['of one pattern, and 9.9 apart', first, one({ gain: 90.1 }), true],
    ['of one pattern, and 10 apart', first, one({ gain: 90 }), false],
    ['of one pattern with one unknown more', first, one({ gain: 91 }, [0, 0], 2), true],
    ['of one pattern with two unknowns more', first, one({ gain: 91 }, [0, 0], 3), false],
    ['of one pattern with two unknowns fewer', one({}, [0, 0], 3), one({ gain: 91 }), false],
    ['of one pattern, and nothing explained', one({ explains: false }), one({ gain: 91, explains: false }), false],
  ] as const)('are those %s', (_, a, b, expected) => {
    expect(isAlike(a, b)).toBe(expected);
  });

  it('are a wrong integer and a wrong coordinate at the only stand of a point', () => {
    const stand = { name: 'A', isOnlyOfPoint: true };
    const integer = one({ cause: 'wrong-integer', stand });
    const control = { cause: 'control-coordinate', gain: 20, stand } as const;
    expect(isAlike(integer, one(control, [9, 9]))).toBe(true);
    expect(isAlike(one({ ...control, gain: 100 }), one({ cause: 'wrong-integer', gain: 20, stand }, [9, 9]))).toBe(
      true,
    );
    expect(isAlike(integer, one({ ...control, stand: { ...stand, name: 'B' } }, [9, 9]))).toBe(false);
    expect(
      isAlike(one({ cause: 'wrong-integer', stand: { ...stand, isOnlyOfPoint: false } }), one(control, [9, 9])),
    ).toBe(false);
    expect(isAlike(integer, one({ cause: 'tilt', gain: 20, stand }, [9, 9]))).toBe(false);
    expect(isAlike(one({ cause: 'tilt', stand }), one(control, [9, 9]))).toBe(false);
    expect(isAlike(one({ cause: 'wrong-integer' }), one({ ...control, stand: null }, [9, 9]))).toBe(false);
  });

  it('are the motion of a plate and a base coordinate that fits no better by 99 %: 9.21 of χ²', () => {
    const epoch = one({ cause: 'epoch' });
    const base = (chiSquareAfter: number) => one({ cause: 'base-coordinate', gain: 20, chiSquareAfter }, [9, 9]);
    expect(isAlike(epoch, base(0.8))).toBe(true);
    expect(isAlike(epoch, base(0.78))).toBe(false);
    expect(isAlike(first, base(10))).toBe(false);
    expect(isAlike(epoch, one({ cause: 'zone', gain: 20 }, [9, 9]))).toBe(false);
  });
});

describe('rms', () => {
  it('is the root of the mean square, and 0 of none', () => {
    expect(rms(Float64Array.of(3, 4))).toBeCloseTo(Math.sqrt(12.5), 12);
    expect(rms(new Float64Array())).toBe(0);
  });
});
