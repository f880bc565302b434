import { describe, expect, it } from 'vitest';
import type { PlannedTarget } from '../../../src/tasks/plan/targets/predict-targets.js';
import { createPlanTotals } from '../../../src/tasks/plan/plan-totals.js';

/** A place outside by its circle at a distance; only what totals look at. */
function place(id: string, baselineM: number, circle95M: number): PlannedTarget {
  return {
    target: { id, kind: 'point', toleranceHorizontalM: 0.01, toleranceVerticalM: null },
    base: { id: 'free' },
    verdict: 'outside',
    wayOut: 'never',
    at: { horizontal: 'outside', vertical: null, uncertainty: { circle95M, vertical95M: 0 } },
    prediction: { baselineM, heightDifferenceM: null, byConditions: [] },
  } as unknown as PlannedTarget;
}

describe('totals of a plan', () => {
  it('name the first in the file of places as far away but for the last digits', () => {
    const totals = createPlanTotals();
    for (const one of [place('A', 29_000, 0.042), place('B', 29_000 + 1e-8, 0.042 * (1 + 1e-13))]) totals.add(one);
    expect(totals.bases.get('free')?.farthestId).toBe('A');
    expect(totals.worst().map(({ target }) => target.id)).toEqual(['A', 'B']);
  });

  it('name the farther one, and the one farther over its limit, where they differ', () => {
    const totals = createPlanTotals();
    for (const one of [place('A', 29_000, 0.042), place('B', 29_000.001, 0.04200001)]) totals.add(one);
    expect(totals.bases.get('free')?.farthestId).toBe('B');
    expect(totals.worst().map(({ target }) => target.id)).toEqual(['B', 'A']);
  });
});
