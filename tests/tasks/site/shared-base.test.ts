import { describe, expect, it } from 'vitest';
import { ownVarianceM2 } from '../../../src/tasks/site/shared-base.js';

describe('ownVarianceM2', () => {
  // An assumption of the site fit: a tenth of what was measured is the point's own, whatever its base claims.
  it('is what the base leaves, and a tenth at least', () => {
    expect(ownVarianceM2(10, 3)).toBe(7);
    expect(ownVarianceM2(10, 9)).toBe(1);
    expect(ownVarianceM2(10, 9.5)).toBe(1);
    expect(ownVarianceM2(10, 20)).toBe(1);
  });
});
