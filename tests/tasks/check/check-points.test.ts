import { describe, expect, it } from 'vitest';
import { constantLimit } from '../../../src/core/quality/standards/limit-rule.js';
import { blankPoint } from '../../../src/io/tables/points/point-row-read.js';
import type { PointRow } from '../../../src/records/points/point-row.js';
import { checkPoints } from '../../../src/tasks/check/check-points.js';
import type { Checks, ChecksAsked, NamedPoints } from '../../../src/tasks/check/check-points.js';
import { rulesByUse } from '../../../src/tasks/check/judge/check-limits.js';
import type { CheckSetup } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { PLAIN_CHECK } from '../../support/check-setup.js';

// Regression: which steps a check has, and that what each found stands by itself. What a step finds is tested beside it.
const SETUP: CheckSetup = {
  ...PLAIN_CHECK,
  ...rulesByUse([
    { rule: constantLimit('plan', '2d', 0.05), uses: ['control', 'design'] },
    { rule: constantLimit('height', 'up', 0.05), uses: ['control'] },
  ]),
};

function named(name: string, points: readonly (Partial<PointRow> & { readonly pointId: string })[]): NamedPoints {
  return {
    name,
    points: points.map((point, index) => ({
      ...blankPoint(0, index + 2),
      sigmaEastM: 0.01,
      sigmaNorthM: 0.01,
      sigmaUpM: 0.02,
      ...point,
    })),
  };
}

const MEASURED = named('points.csv', [
  { pointId: 'A', occupation: '1', gridFirst: 100, gridSecond: 200, verdict: 'accepted' },
  { pointId: 'A', occupation: '2', gridFirst: 100.01, gridSecond: 200, verdict: 'review' },
  { pointId: 'B', occupation: '1', gridFirst: 300, gridSecond: 400, verdict: 'rejected' },
]);
const KNOWN = named('known.csv', [
  { pointId: 'A', gridFirst: 100.2, gridSecond: 200, role: 'both' },
  { pointId: 'B', gridFirst: 300, gridSecond: 400, role: 'check' },
]);

function checked(asked: Partial<ChecksAsked>, onRow?: () => void): Checks {
  const found = checkPoints(MEASURED, asked, SETUP, onRow);
  if (!found.ok) throw new Error(found.problems[0]?.message);
  return found.value;
}

describe('checking points', () => {
  it('makes the steps that are asked for and no other', () => {
    const nothing = checked({});
    expect(nothing.rows).toHaveLength(0);
    expect([nothing.control, nothing.repeats, nothing.design, nothing.summary, nothing.search]).toEqual(
      Array.from({ length: 5 }, () => null),
    );
    const all = checked({ control: KNOWN, repeats: { samePlaceM: null }, design: { ...KNOWN, isLine: false } });
    expect([...all.rows].map(({ check }) => check)).toEqual([
      ...Array.from({ length: 3 }, () => 'control'),
      'repeat',
      ...Array.from({ length: all.design === null ? 0 : all.design.rows.length }, () => 'design'),
    ]);
    expect(all.control?.hasShared).toBe(true);
    expect(all.repeats?.groups.map(({ pointId }) => pointId)).toEqual(['A']);
  });

  it('keeps what the reduction said of a point: rejected stays no, and review stays review', () => {
    const verdicts = [...checked({ control: KNOWN }).rows].map(({ pointId, occupation, verdict }) =>
      [pointId, occupation, verdict].join(' '),
    );
    expect(verdicts).toEqual(['A 1 exceeds', 'A 2 exceeds', 'B 1 exceeds']);
    const { doubts, classed } = checked({});
    expect(doubts).toEqual({ rejected: 1, review: 1, unchecked: 0, rejectedIds: ['B'], reviewIds: ['A'] });
    expect([...classed].map(({ pointId }) => pointId)).toEqual(['A', 'A']);
  });

  it('says which limit nothing could be held against', () => {
    const { statements, control } = checked({ control: KNOWN });
    expect(statements).toEqual(control?.coverage.statements);
    expect(statements.map(({ what, verdict }) => [what, verdict])).toEqual([
      ['control, limit in height', 'not-stated'],
    ]);
  });

  it('calls its listener once a comparison', () => {
    let calls = 0;
    const { rows } = checked({ control: KNOWN, repeats: { samePlaceM: null } }, () => {
      calls += 1;
    });
    expect(calls).toBe(rows.length);
  });
});
