import { describe, expect, it } from 'vitest';
import { contrastLinks } from '../../../support/contrast-links.js';
import type { BaselineContrast, ContrastedStand } from '../../../../src/core/quality/day/stand-contrasts.js';

// By hand: half of what does not grow is the base receiver's; what grows is as alike as the cosine between the baselines; both fade
// by exp(−Δt/τ). docs/methods/repeat-check.md.
const stand = (own: Partial<ContrastedStand> = {}): ContrastedStand => ({
  markKey: 'M',
  azimuthRad: 0,
  middleMs: 0,
  constantM: [2, 3, 5],
  growingM: [7, 11, 13],
  ...own,
});
const contrast = (stands: readonly ContrastedStand[], own: Partial<BaselineContrast> = {}): BaselineContrast =>
  ({
    axis: 'east',
    tauS: 100,
    constantM2: 10,
    growingM2: 10,
    otherM2: 10,
    stands,
    shares: stands.map(() => 1),
    ...own,
  }) as unknown as BaselineContrast;
const only = (a: BaselineContrast, b: BaselineContrast) => {
  const links = contrastLinks([a, b], [0, 1]);
  expect(links.length).toBeLessThanOrEqual(1);
  return links[0] ?? null;
};
const shared = (own: Partial<ContrastedStand>, change: Partial<BaselineContrast> = {}) => {
  const link = only(contrast([stand()]), contrast([stand(own)], change));
  return link === null ? null : [link.constantM2, link.growingM2];
};
const close = (...values: readonly number[]): readonly unknown[] =>
  values.map((value) => expect.closeTo(value, 9) as unknown);

describe('what contrasts of two points share', () => {
  it('is half of what does not grow, and all that grows, at one time and in one direction', () => {
    expect(only(contrast([stand()]), contrast([stand()]))).toEqual({
      first: 0,
      second: 1,
      constantM2: expect.closeTo(0.5 * 2 * 2, 9) as unknown,
      growingM2: expect.closeTo(7 * 7, 9) as unknown,
      pairs: 2,
    });
    const axes = (axis: BaselineContrast['axis']) =>
      only(contrast([stand()], { axis }), contrast([stand()], { axis }))?.growingM2;
    expect([axes('north'), axes('up')]).toEqual(close(121, 169));
  });

  it('fades with the time between them, by the longer of their times, whichever is first', () => {
    const faded = Math.exp(-50 / 100);
    expect(shared({ middleMs: 50_000 })).toEqual(close(2 * faded, 49 * faded));
    expect(shared({ middleMs: -50_000 })).toEqual(close(2 * faded, 49 * faded));
    const longer = Math.exp(-50 / 200);
    expect(shared({ middleMs: 50_000 }, { tauS: 200 })).toEqual(close(2 * longer, 49 * longer));
    // Where a time is not stated they may have been at one.
    expect(shared({ middleMs: null })).toEqual(close(2, 49));
    const untimed = only(contrast([stand({ middleMs: null })]), contrast([stand({ middleMs: 50_000 })]));
    expect(untimed?.growingM2).toBeCloseTo(49, 9);
  });

  it('grows alike with the baselines by the cosine between them', () => {
    expect(shared({ azimuthRad: Math.PI / 3 })).toEqual(close(2, 24.5));
    expect(shared({ azimuthRad: Math.PI })).toEqual(close(2, -49));
    expect(shared({ azimuthRad: null })).toEqual(close(2, 49));
    const unknown = only(contrast([stand({ azimuthRad: null })]), contrast([stand({ azimuthRad: 2 })]));
    expect(unknown?.growingM2).toBeCloseTo(49, 9);
  });

  it('is nothing between marks, between axes, and of one point', () => {
    expect(shared({ markKey: 'N' })).toBeNull();
    expect(shared({}, { axis: 'north' })).toBeNull();
    expect(contrastLinks([contrast([stand()]), contrast([stand()])], [4, 4])).toEqual([]);
    expect(contrastLinks([], [])).toEqual([]);
  });

  it('adds up over the stands of both by their shares', () => {
    const two = contrast([stand(), stand({ markKey: 'N' })], { shares: [0.5, -0.5] });
    expect(only(two, two)?.growingM2).toBeCloseTo(0.25 * 49 + 0.25 * 49, 9);
    const three = contrast([stand(), stand()], { shares: [0.75, -0.25] });
    expect(only(three, contrast([stand()]))?.growingM2).toBeCloseTo(0.5 * 49, 9);
  });

  it('counts from a twentieth of their variances on', () => {
    // Shared are 2 and 49; of variances of v each a twentieth is v/20.
    const of = (v: number) =>
      only(
        contrast([stand()], { constantM2: v / 2, growingM2: v / 4, otherM2: v / 4 }),
        contrast([stand()], { constantM2: v / 4, growingM2: v / 4, otherM2: v / 2 }),
      );
    expect(of(1019)).not.toBeNull();
    expect(of(1021)).toBeNull();
    // What is shared against each other counts as much.
    expect(shared({ azimuthRad: Math.PI }, { otherM2: 0 })).not.toBeNull();
  });

  it('is asked of a hundred and twenty of an axis, which stand for all of it', () => {
    const links = (count: number) =>
      contrastLinks(
        Array.from({ length: count }, () => contrast([stand()])),
        Array.from({ length: count }, (_, place) => place),
      );
    const whole = links(120);
    expect([whole.length, whole[0]?.pairs]).toEqual([(120 * 119) / 2, 2]);
    // Every second of 122: 61, each pair for four.
    const half = links(122);
    expect([half.length, half[0]?.pairs]).toEqual([(61 * 60) / 2, 8]);
    expect([half[0]?.first, half[0]?.second]).toEqual([0, 2]);
  });
});
