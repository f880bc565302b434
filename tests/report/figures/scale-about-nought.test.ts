import { describe, expect, it } from 'vitest';
import { scaleAboutNought } from '../../../src/report/figures/scales.js';

describe('a scale about nought', () => {
  it('has a tick above and below nought, whatever it reaches, and few of them', () => {
    for (let reach = 0.004; reach < 5000; reach *= 1.07) {
      const { ticks } = scaleAboutNought(reach, [55, 0]);
      expect(ticks, String(reach)).toContain(0);
      expect(ticks.length, String(reach)).toBeGreaterThanOrEqual(3);
      expect(ticks.length, String(reach)).toBeLessThanOrEqual(6);
      expect(ticks.some((tick) => tick < 0) && ticks.some((tick) => tick > 0), String(reach)).toBe(true);
    }
  });
});
