import { describe, expect, it } from 'vitest';
import type { Session } from '../../../src/records/session.js';
import { checkRunSummary } from '../../../src/tasks/check/check-run-summary.js';
import type { CheckRow } from '../../../src/tasks/check/judge/check-tolerances-setup.js';
import { placedRow } from '../../support/check-setup.js';

const row = (
  pointId: string,
  differences: readonly (number | null)[],
  times: readonly (number | null)[] | null,
): CheckRow => {
  const [firstM = null, secondM = null, upM = null] = differences;
  const measured = times === null ? null : placedRow({ firstEpochMs: times[0] ?? null, lastEpochMs: times[1] ?? null });
  return { pointId, firstM, secondM, upM, measured } as unknown as CheckRow;
};
const session = (title: string | null, ...ids: readonly string[]) =>
  ({ title, bases: ids.map((id) => ({ id })) }) as unknown as Session;
const summary = (...rows: readonly CheckRow[]) => checkRunSummary(session('a day', 'B1', 'B2', 'B1'), rows);

describe('what a check was about', () => {
  it('is counted by points, between the first and the last epoch, with the largest differences', () => {
    expect(
      summary(
        row('A', [3, 4, -7], [500, 600]),
        row('A', [6, -8, 2], [100, 900]),
        row('B', [1, 1, 3], [300, 400]),
        row('C', [6, 8, 7], null),
      ),
    ).toEqual({
      title: 'a day',
      points: 3,
      firstEpochMs: 100,
      lastEpochMs: 900,
      bases: ['B1', 'B2'],
      // Of equals the first.
      largest: [
        { figure: 'horizontal_difference_m', value: 10, at: 'A' },
        { figure: 'vertical_difference_m', value: 7, at: 'A' },
      ],
    });
  });
  it('has no times and no differences where there are none', () => {
    expect(
      checkRunSummary(session(null), [row('A', [3, null, null], [null, null]), row('A', [null, 4, null], null)]),
    ).toEqual({
      title: '',
      points: 1,
      firstEpochMs: null,
      lastEpochMs: null,
      bases: [],
      largest: [],
    });
    expect(summary(row('A', [null, null, -2], [null, 5])).largest).toEqual([
      { figure: 'vertical_difference_m', value: 2, at: 'A' },
    ]);
    expect(summary(row('A', [], [null, 5]))).toMatchObject({ firstEpochMs: null, lastEpochMs: 5 });
    expect(summary(row('A', [], [5, null]))).toMatchObject({ firstEpochMs: 5, lastEpochMs: null });
  });
});
