import { describe, expect, it } from 'vitest';
import { nextOfCarried } from '../../../src/tasks/pages/carried-next-steps.js';

type Carried = Parameters<typeof nextOfCarried>[0];
const next = (own: object = {}): readonly string[] =>
  nextOfCarried({
    counts: { refused: 0 },
    refused: [],
    doubts: [],
    steps: [],
    isOfSite: false,
    farthestOutside: null,
    ...own,
  } as unknown as Carried);
const step = (accuracyM: number | null): object => ({ accuracyM });

describe('what to do next with carried points', () => {
  it('is nothing where nothing was changed and nothing is in doubt', () => {
    expect(next()).toEqual([]);
  });

  it('is a comparison on known points: one where the operation is stated to 5 cm or better, or to nothing', () => {
    const one = 'Compare one point that is known in both systems before the list is used.';
    expect(next({ steps: [step(0.05)] })).toEqual([one]);
    expect(next({ steps: [step(null)] })).toEqual([one]);
    expect(next({ steps: [step(0.05), step(0.051)] })).toEqual([
      'Compare a point that is known in both systems: the operation is stated to 0.05 m, and what is needed better comes from local control.',
    ]);
    expect(next({ steps: [step(2), step(0.3)] })[0]).toContain('stated to 2.00 m');
    // A site is checked by its own control.
    expect(next({ steps: [step(0.01)], isOfSite: true })).toEqual([]);
  });

  it('begins with the rows that were refused, and goes on with doubts', () => {
    const refused = [{ code: 'angle-syntax' }, { code: 'value-missing' }];
    const of = (count: number): string | undefined => next({ refused, counts: { refused: count } })[0];
    expect(of(1)).toMatch(/^Mend the row that was refused, most of them for angle-syntax \(/u);
    expect(of(2)).toMatch(/^Mend the 2 rows that were refused, most of them for angle-syntax \(/u);
    const doubts = [{ code: 'coordinate-outside-area' }, { code: 'network-unchecked' }];
    expect(next({ doubts }).map((text) => text.split(' ').slice(0, 2).join(' '))).toEqual(['Observe the', 'Check the']);
  });

  it('asks for a known point of the site near the point that lies farthest outside its control', () => {
    const farthestOutside = { pointId: 'P9', valueM: 123.45 };
    expect(next({ isOfSite: true, farthestOutside })).toEqual([
      'Measure a known point of the site near P9, outside the control, where nothing checks the fit.',
    ]);
    expect(next({ farthestOutside })).toEqual([]);
    expect(next({ isOfSite: true })).toEqual([]);
  });
});
