import { describe, expect, it } from 'vitest';
import type { ReportAxis } from '../../../../src/records/reports/reduction-report.js';
import { basesByPlace } from '../../../../src/report/figures/plan/one-place.js';
import { planView } from '../../../../src/report/figures/plan/plan-view.js';

const axis = (columnName: string, direction: ReportAxis['direction']): ReportAxis => ({
  columnName,
  name: columnName,
  abbreviation: columnName.slice(0, 1),
  direction,
  unitName: 'metre',
  metresPerUnit: 1,
});
const here = { first: 0, second: 0 };
const there = { first: 900, second: 400 };
const view = planView([here, there], [axis('easting_m', 'east'), axis('northing_m', 'north')], 760, 50);
const namesOf = (bases: readonly (readonly [string, typeof here])[]): readonly string[] =>
  basesByPlace(
    bases.map(([id, place]) => ({ id, place })),
    view,
  ).map(({ id }) => id);

// What a plan calls its bases: the day of a set-up is said only where it tells two places apart, and is never cut.
describe('the name of a base on a plan', () => {
  it('has no day where the base stands at one place, however often', () => {
    expect(
      namesOf([
        ['B1 on 2026-03-09', here],
        ['B1 on 2026-03-10', here],
        ['B2 on 2026-03-11', there],
      ]),
    ).toEqual(['B1', 'B2']);
  });

  it('has month and day where one name stands at two places', () => {
    expect(
      namesOf([
        ['B1 on 2026-03-09', here],
        ['B1 on 2026-03-10', there],
      ]),
    ).toEqual(['B1 03-09', 'B1 03-10']);
  });

  it('is that of both where two stand at one place', () => {
    expect(
      namesOf([
        ['B1', here],
        ['hill on the left', here],
      ]),
    ).toEqual(['B1, hill on the left']);
  });
});
