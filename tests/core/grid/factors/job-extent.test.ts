import { describe, expect, it } from 'vitest';
import { createJobExtent } from '../../../../src/core/grid/factors/job-extent.js';
import { seededRandom } from '../../../support/seeded-random.js';

describe('the extent of a job', () => {
  it('is never less than the greatest distance of two points and at most 0.1 % more', () => {
    const random = seededRandom(7);
    for (let trial = 0; trial < 200; trial += 1) {
      const stretch = random.between(0.01, 1);
      const turn = random.between(0, Math.PI);
      const points = Array.from({ length: 30 }, () => {
        const [x, y] = [random.normal() * 1000, random.normal() * 1000 * stretch];
        return [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)] as const;
      });
      const extent = createJobExtent();
      for (const [x, y] of points) extent.add(x, y);
      const diameter = Math.max(
        ...points.flatMap(([ax, ay]) => points.map(([bx, by]) => Math.hypot(ax - bx, ay - by))),
      );
      expect(extent.extent()).toBeGreaterThanOrEqual(diameter * (1 - 1e-12));
      expect(extent.extent()).toBeLessThanOrEqual(diameter * 1.00096);
    }
  });

  it('is 0 without points and for one point', () => {
    const extent = createJobExtent();
    expect(extent.extent()).toBe(0);
    extent.add(3_487_000, -38_000);
    expect(extent.extent()).toBe(0);
  });
});
