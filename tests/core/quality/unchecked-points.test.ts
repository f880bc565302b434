import { describe, expect, it } from 'vitest';
import { isUnchecked, uncheckedWarnings } from '../../../src/core/quality/unchecked-points.js';

describe('points that nothing checked', () => {
  it('are known by the one reason among others, and by no word that holds it', () => {
    expect(
      ['network-unchecked', 'network-observation; network-unchecked'].map((reasons) => isUnchecked({ reasons })),
    ).toEqual([true, true]);
    expect(['', 'network-observation', 'not-network-unchecked'].map((reasons) => isUnchecked({ reasons }))).toEqual([
      false,
      false,
      false,
    ]);
  });

  it('are named, the first ten of many, and nothing is said of none', () => {
    expect(uncheckedWarnings([])).toEqual([]);
    expect(uncheckedWarnings(['A'])[0]).toMatchObject({
      code: 'network-unchecked',
      severity: 'warning',
      message: 'nothing checked one point in the adjustment that gave it: A',
    });
    const many = Array.from({ length: 12 }, (_, k) => `P${String(k + 1)}`);
    expect(uncheckedWarnings(many)[0]?.message).toBe(
      'nothing checked 12 points in the adjustment that gave them: P1, P2, P3, P4, P5, P6, P7, P8, P9, P10 and 2 more',
    );
  });
});
