import { describe, expect, it } from 'vitest';
import { datesThatDiffer } from '../../../src/tasks/job/date-of-day.js';

const day = (date: string | null, first: string, last: string = first): Parameters<typeof datesThatDiffer>[0] => [
  { id: 'd', date, span: { firstMs: Date.parse(first), lastMs: Date.parse(last) } },
];

describe('datesThatDiffer', () => {
  it('finds the files of another day, another month for day, another year', () => {
    expect(datesThatDiffer(day('2026-05-07', '2026-05-05T07:00:00Z', '2026-05-05T16:00:00Z'))[0]).toMatchObject({
      code: 'day-date-differs',
      severity: 'error',
    });
    expect(datesThatDiffer(day('2026-05-06', '2026-05-05T07:00:00Z'))).toHaveLength(1);
    expect(datesThatDiffer(day('2026-05-04', '2026-04-05T07:00:00Z'))).toHaveLength(1);
    expect(datesThatDiffer(day('2026-05-04', '2062-05-04T07:00:00Z'))).toHaveLength(1);
  });

  it('lets every zone be: from UTC+14 to UTC-12', () => {
    // 08:00 on 4 May in Kiritimati (UTC+14) is 18:00 on 3 May in UTC; 20:00 at UTC-12 is 08:00 on 5 May.
    expect(datesThatDiffer(day('2026-05-04', '2026-05-03T18:00:00Z'))).toEqual([]);
    expect(datesThatDiffer(day('2026-05-04', '2026-05-05T08:00:00Z'))).toEqual([]);
    expect(datesThatDiffer(day('2026-05-04', '2026-05-01T00:00:00Z', '2026-05-08T00:00:00Z'))).toEqual([]);
  });

  it('asks nothing of a day without a date or without epochs', () => {
    expect(datesThatDiffer(day(null, '2026-05-05T07:00:00Z'))).toEqual([]);
    expect(datesThatDiffer([{ id: 'd', date: '2026-05-07', span: null }])).toEqual([]);
  });
});
