import { describe, expect, it } from 'vitest';
import { STANDARDS } from '../../../../src/core/quality/standards/standards.js';
import type { Standard } from '../../../../src/core/quality/standards/standards.js';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { present } from '../../../../src/records/present.js';
import { standardStatements } from '../../../../src/tasks/check/judge/check-tolerances-standard.js';
import type { ControlSummary } from '../../../../src/tasks/check/check-tolerances-summary.js';

const RT1: Standard = present(
  STANDARDS.find(({ id }) => id === 'single-base-rt1'),
  'RT1',
);
const HOUR_MS = 3_600_000;

/** A point of RT1 that lacks nothing, but for what is said: 9 km from one of two bases, for three minutes. */
const point = (pointId: string, hour: number, change: Partial<PointRow> = {}): PointRow =>
  ({
    pointId,
    baseId: 'N',
    baselineM: 9000,
    firstEpochMs: hour * HOUR_MS,
    lastEpochMs: hour * HOUR_MS + 179_000,
    ...change,
  }) as PointRow;
const twice = (pointId: string, change: Partial<PointRow> = {}): readonly PointRow[] => [
  point(pointId, 8, change),
  point(pointId, 12, { baseId: 'S', ...change }),
];
const said = (points: readonly PointRow[], hasFixes = true, standard = RT1): Readonly<Record<string, string>> =>
  Object.fromEntries(
    standardStatements(standard, points, null, 0, hasFixes)
      .filter(({ what }) => !what.startsWith('asked'))
      .map(({ what, text, verdict }) => [what, `${verdict}: ${text}`]),
  );

describe('what a class of one base asks of the points', () => {
  it('is nothing more of points that have it all', () => {
    expect(said(twice('A'))).toEqual({ repeat: 'within: every point has 2 occupations at least 4.0 h apart' });
  });

  it('needs the fixes for PDOP and satellites', () => {
    expect(said(twice('A'), false)['PDOP and satellites']).toBe(
      'not-stated: cannot be stated without the raw fixes: add --fixes FILE',
    );
    // Each of the two asks for them.
    const one = (change: object): Standard => ({
      ...RT1,
      acceptance: { ...present(RT1.acceptance, 'what it asks'), ...change },
    });
    expect(said(twice('A'), false, one({ maxPdop: null }))['PDOP and satellites']).toBeDefined();
    expect(said(twice('A'), false, one({ minSatellites: null }))['PDOP and satellites']).toBeDefined();
    expect(said(twice('A'), false, one({ maxPdop: null, minSatellites: null }))['PDOP and satellites']).toBeUndefined();
  });

  it('counts bases', () => {
    expect(said(twice('A', { baseId: 'N' }))['bases']).toBe(
      'not-stated: cannot be stated: 1 in the points, 1 more is needed',
    );
    expect(said(twice('A', { baseId: null }))['bases']).toBe(
      'not-stated: cannot be stated: 0 in the points, 2 more are needed',
    );
  });

  it('has a longest baseline of 10 km, and says where none is known', () => {
    expect(said(twice('A', { baselineM: 10_000 }))['baseline']).toBeUndefined();
    expect(said(twice('A', { baselineM: 10_001 }))['baseline']).toBe('exceeds: A is farther than 10 km from the base');
    expect(said(twice('A', { baselineM: null }))['baseline']).toBe(
      'not-stated: cannot be stated for 2 points without baseline_m',
    );
  });

  it('has a shortest stand of three minutes, its first and last epoch counted', () => {
    expect(said(twice('A', { lastEpochMs: 8 * HOUR_MS + 178_000, firstEpochMs: 8 * HOUR_MS }))['duration']).toBe(
      'exceeds: A is observed for less than 180 s',
    );
    expect(said(twice('A', { lastEpochMs: null }))['duration']).toBe(
      'not-stated: cannot be stated for 2 points without first_epoch_utc and last_epoch_utc',
    );
    expect(said(twice('A', { firstEpochMs: null }))['duration']).toBe(
      'not-stated: cannot be stated for 2 points without first_epoch_utc and last_epoch_utc',
    );
  });

  it('has two occupations four hours apart in the time of day', () => {
    const apart = (...hours: readonly number[]): string | undefined =>
      said(hours.map((hour, i) => point('A', hour, { baseId: i % 2 === 0 ? 'N' : 'S' })))['repeat']?.split(':')[0];
    expect(apart(8, 12)).toBe('within');
    expect(apart(8, 11.999)).toBe('not-stated');
    // The next day at the same hour is the same time of day, and so is an hour before midnight and two after.
    expect(apart(8, 32)).toBe('not-stated');
    expect(apart(23, 26)).toBe('not-stated');
    expect(apart(8, 31)).toBe('not-stated');
    expect(apart(8, 28)).toBe('within');
    expect(apart(8, 10, 12)).toBe('within');
    expect(said([point('A', 8), point('A', 12, { firstEpochMs: null, baseId: 'S' })])['repeat']).toBe(
      'not-stated: cannot be stated: A is without 2 occupations at least 4.0 h apart in the time of day',
    );
  });

  it('names six points and counts the others', () => {
    const seven = ['A', 'B', 'C', 'D', 'E', 'F', 'G'].flatMap((id) => twice(id, { baselineM: 11_000 }));
    expect(said(seven)['baseline']).toContain('A, B, C, D, E, F and 1 more are farther');
    expect(said(seven.slice(0, 12))['baseline']).toContain('A, B, C, D, E, F are farther');
  });
});

describe('the accuracy of positions from check points', () => {
  const NSSDA: Standard = present(
    STANDARDS.find(({ id }) => id === 'nssda'),
    'NSSDA',
  );
  const axis = (rmse: number, count: number, isBiased = false) => ({ rmse, count, isBiased });
  const stated = (summary: object | null, checkPoints: number): Readonly<Record<string, string>> =>
    Object.fromEntries(
      standardStatements(NSSDA, [], summary as ControlSummary | null, checkPoints, false).map(
        ({ what, text, verdict }) => [what, `${verdict}: ${text}`],
      ),
    );

  it('is stated from twenty points in plan and in height', () => {
    const found = stated({ first: axis(0.01, 20), second: axis(0.01, 20), up: axis(0.02, 20) }, 20);
    // FGDC-NSSDA, appendix 3-A: 2.4477 and 1.9600 times the RMSE.
    expect(found['horizontal accuracy']).toContain(
      'information: tested 0.024 m at 95 % confidence from 20 check points',
    );
    expect(found['vertical accuracy']).toContain('tested 0.039 m at 95 % confidence from 20 check points');
    expect(found['systematic error']).toBeUndefined();
  });

  it('says how many are lacking, of heights those that there are', () => {
    const found = stated({ first: axis(0.01, 19), second: axis(0.01, 19), up: axis(0.02, 17) }, 19);
    expect(found['horizontal accuracy']).toBe('not-stated: cannot be stated: 19 check points, 1 more are needed');
    expect(found['vertical accuracy']).toBe('not-stated: cannot be stated: 17 check points, 3 more are needed');
  });

  it('has no formula for axes that differ by much, and no plan without one', () => {
    const found = stated({ first: axis(0.01, 20), second: axis(0.05, 20), up: null }, 20);
    expect(found['horizontal accuracy']).toContain('differ by more than the standard has a formula for');
    expect(found['vertical accuracy']).toBeUndefined();
    for (const summary of [
      null,
      { first: axis(1, 20), second: null, up: null },
      { first: null, second: axis(1, 20), up: null },
    ])
      expect(stated(summary, 20)['horizontal accuracy']).toContain('no check points in plan');
  });

  it('says that a bias is there in any axis', () => {
    for (const biased of ['first', 'second', 'up']) {
      const summary = {
        first: axis(0.01, 20),
        second: axis(0.01, 20),
        up: axis(0.02, 20),
        [biased]: axis(0.01, 20, true),
      };
      expect(stated(summary, 20)['systematic error']).toContain('a bias is significant');
    }
  });

  it('says what it asks and nobody judged', () => {
    expect(stated(null, 0)['asked by the standard and not judged here']).toContain(
      'information: cannot be stated: that the check points are independent',
    );
  });
});
