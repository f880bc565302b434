import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BaselineContrast, ContrastedStand } from '../../../src/core/quality/day/stand-contrasts.js';
import { createContrastStore } from '../../../src/tasks/repeats/contrast-store.js';

const number = fc.double({ noNaN: true });
const byAxis = fc.tuple(number, number, number);
const stand: fc.Arbitrary<ContrastedStand> = fc.record({
  markKey: fc.constantFrom('mark 0', 'mark 1', ''),
  azimuthRad: fc.option(number, { nil: null }),
  middleMs: fc.option(number, { nil: null }),
  constantM: byAxis,
  growingM: byAxis,
});
/** Contrasts of the stands of one mark, which all hold them. */
const ofMark: fc.Arbitrary<readonly BaselineContrast[]> = fc
  .tuple(
    fc.array(stand, { maxLength: 3 }),
    fc.array(
      fc.record({
        axis: fc.constantFrom('east' as const, 'north' as const, 'up' as const),
        baselineM: number,
        differenceM: number,
        constantM2: number,
        growingM2: number,
        otherM2: number,
        tauS: number,
        shares: fc.array(number, { maxLength: 3 }),
      }),
      { maxLength: 3 },
    ),
  )
  .map(([stands, all]) => structuredClone(all.map((own) => ({ ...own, stands }))));

describe('createContrastStore', () => {
  it('gives back the contrasts of every point as they were, as often as they are gone through', () => {
    fc.assert(
      fc.property(fc.array(fc.array(ofMark, { maxLength: 3 }), { maxLength: 20 }), (points) => {
        const store = createContrastStore();
        const all = points.map((marks) => marks.flat());
        const kept = all.map(store.keep);
        expect(kept.map(({ length }) => length)).toStrictEqual(all.map(({ length }) => length));
        for (let time = 0; time < 2; time += 1) expect(kept.map((own) => [...own])).toStrictEqual(all);
      }),
    );
  });

  it('keeps more of one point than it asks room for at once', () => {
    const [own] = fc.sample(
      ofMark.filter(({ length }) => length > 0),
      { seed: 4, numRuns: 1 },
    ) as [readonly BaselineContrast[]];
    const many = Array.from({ length: 2000 }, () => own).flat();
    const store = createContrastStore();
    const kept = [own, many, own].map(store.keep);
    expect(kept.map((each) => [...each])).toStrictEqual([own, many, own]);
  });
});
