import { describe, expect, it } from 'vitest';
import type { FinishedRun } from '../../../src/records/finished-run.js';
import { checkFacts } from '../../../src/tasks/delivery/record-facts.js';

const run = (reasonCounts: ReadonlyMap<string, number>): FinishedRun => ({ json: {}, reasonCounts }) as FinishedRun;

describe('a check of a delivery', () => {
  it('says how much of an adjustment nothing checks, and nothing where all is checked', () => {
    const counts = { within: 10, review: 2 };
    expect(checkFacts('adjust-network', run(new Map([['network-unchecked', 2]])), 'review', counts).by).toEqual([
      'nothing checks 2 of its observations and control points',
    ]);
    expect(checkFacts('adjust-network', run(new Map()), 'within', counts).by).toEqual([]);
    expect(checkFacts('adjust-network', null, 'within', counts).by).toEqual([]);
  });
});
