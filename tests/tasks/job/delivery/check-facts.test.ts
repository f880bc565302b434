import { describe, expect, it } from 'vitest';
import type { FinishedRun } from '../../../../src/records/runs/finished-run.js';
import { checkFacts, recordFacts } from '../../../../src/tasks/job/delivery/record-facts.js';

const run = (reasonCounts: ReadonlyMap<string, number>): FinishedRun =>
  ({ json: {}, reasonCounts, argv: [], inputs: [], summary: null }) as unknown as FinishedRun;

describe('a check of a delivery', () => {
  it('says how much of an adjustment nothing checks, and nothing where all is checked', () => {
    const counts = { within: 10, review: 2 };
    expect(checkFacts('adjust-network', run(new Map([['network-unchecked', 2]])), 'review', counts).by).toEqual([
      'nothing checks 2 of its observations and control points',
    ]);
    expect(checkFacts('adjust-network', run(new Map()), 'within', counts).by).toEqual([]);
    expect(checkFacts('adjust-network', null, 'within', counts).by).toEqual([]);
  });

  it('says of what reads adjusted points that they are what nothing checked', () => {
    expect(
      checkFacts('check-tolerances', run(new Map([['network-unchecked', 2]])), 'review', { review: 2 }).by,
    ).toEqual(['2 of its comparisons rest on points that nothing checked in the adjustment they come from']);
  });
});

describe('the bases of a delivery', () => {
  const known = (name: string, value: number): readonly { readonly key: string; readonly value: unknown }[] => [
    { key: `base.${name}.known.kind`, value: 'geodetic' },
    { key: `base.${name}.known.ellipsoidalHeightM`, value },
  ];
  const idsOf = (settings: readonly unknown[]): readonly string[] =>
    recordFacts({ json: { settings }, reasonCounts: new Map() } as unknown as FinishedRun).bases.map(({ id }) => id);

  it('have the id of the base at each of its set-ups', () => {
    expect(idsOf([...known('PEG', 100), ...known('PEG#2', 101)])).toEqual(['PEG', 'PEG']);
  });

  it('keep a number that is part of their name', () => {
    expect(idsOf([...known('PEG#2', 100), ...known('B1', 101)])).toEqual(['PEG#2', 'B1']);
  });
});
