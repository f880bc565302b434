import { describe, expect, it } from 'vitest';
import { failure } from '../../../src/records/outcome.js';
import { errorProblem } from '../../../src/records/problem.js';
import type { Location } from '../../../src/records/problem.js';
import { ofDay } from '../../../src/tasks/job/of-day.js';

const said = (where: Location | null, id: string | null): readonly unknown[] =>
  ofDay(
    failure({ ...errorProblem('value-missing', { message: 'm', hint: 'h' }), ...(where === null ? {} : { where }) }),
    id,
  ).problems.map((problem) => problem.where);

describe('ofDay', () => {
  it('names the day before what is said of a setting, and where nothing is said', () => {
    expect(said(null, 'D1')).toEqual([{ path: 'day D1' }]);
    expect(said({ path: 'base.B1' }, 'D1')).toEqual([{ path: 'day D1, base.B1' }]);
  });

  it('leaves what names its file, and what is of no day', () => {
    expect(said({ source: 'fixes.csv', line: 3 }, 'D1')).toEqual([{ source: 'fixes.csv', line: 3 }]);
    expect(said({ path: 'base.B1' }, null)).toEqual([{ path: 'base.B1' }]);
  });
});
