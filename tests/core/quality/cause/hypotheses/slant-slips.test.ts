import { describe, expect, it } from 'vitest';
import { slantSlips } from '../../../../../src/core/quality/cause/hypotheses/slant-slips.js';

describe('slantSlips', () => {
  it('gives how much a slant to each stated rim, taken as vertical, is too high', () => {
    const { known, range } = slantSlips({
      kind: 'vertical',
      heightM: 1.3,
      verticalM: 1.3,
      plates: [{ radiusM: 0.5, offsetM: 0.04 }],
    });
    expect(known.map(({ tooHighM }) => tooHighM)).toEqual([expect.closeTo(1.3 - (1.2 - 0.04), 12)]);
    expect(range).toBeNull();
  });

  it('gives the reverse where the session reduces a slant', () => {
    expect(slantSlips({ kind: 'slant', heightM: 1.3, verticalM: 1.16, plates: [] }).known[0]?.tooHighM).toBeCloseTo(
      -0.14,
      12,
    );
  });

  it('gives what antennas may give where no rim is stated, or where none fits the height', () => {
    for (const antenna of [
      null,
      { kind: 'vertical', heightM: 1.5, verticalM: 1.5, plates: [] },
      { kind: 'vertical', heightM: 0.08, verticalM: 0.08, plates: [{ radiusM: 0.1, offsetM: 0 }] },
    ] as const) {
      const { known, range } = slantSlips(antenna);
      expect(known).toEqual([]);
      expect(range?.leastM).toBeGreaterThan(0);
      expect(range?.mostM).toBeGreaterThan(range?.leastM ?? Infinity);
    }
  });
});
