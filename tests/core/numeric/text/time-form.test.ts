import { describe, expect, it } from 'vitest';
import { timeForm, zoneMinutesOf } from '../../../../src/core/numeric/text/time-form.js';

const UTC = { zoneMinutes: null, leapSeconds: 0 };

function read(
  form: string,
  text: string,
  use: { zoneMinutes: number | null; leapSeconds: number } = UTC,
): number | null {
  const made = timeForm(form);
  if (!made.isForm) throw new Error(made.why);
  return made.reader(use)(text);
}

// The same instant in many forms: 2026-05-11T06:07:08.5Z, a Monday, day 131 of the year.
const INSTANT = Date.UTC(2026, 4, 11, 6, 7, 8, 500);

describe('a form of time', () => {
  it.each([
    ['YYYY-MM-DD HH:mm:ss', '2026-05-11 06:07:08.5'],
    ['DD.MM.YYYY HH:mm:ss', '11.05.2026 06:07:08,500'],
    ['D/M/YYYY H:mm:ss', '11/5/2026 6:07:08.5'],
    ['MM/DD/YY hh:mm:ss A', '05/11/26 06:07:08.500 am'],
    ['YYYYMMDD HHmmss', '20260511   060708.5'],
    ['DD-MMM-YYYY HH:mm:ss', '11-May-2026 06:07:08.5'],
    ['YYYY DDD HH:mm:ss', '2026 131 06:07:08.5'],
    ['YYYY-MM-DDTHH:mm:ssZ', '2026-05-11T08:07:08.5+02:00'],
  ])('%s reads %s', (form, text) => {
    expect(read(form, text)).toBe(INSTANT);
  });

  it('takes the zone and the leap seconds off', () => {
    expect(read('YYYY-MM-DD HH:mm:ss', '2026-05-11 08:07:08.5', { zoneMinutes: 120, leapSeconds: 0 })).toBe(INSTANT);
    expect(read('YYYY-MM-DD HH:mm:ss', '2026-05-11 06:07:26.5', { zoneMinutes: null, leapSeconds: 18 })).toBe(INSTANT);
  });

  it('counts seconds and GPS weeks', () => {
    expect(read('unix-seconds', String(INSTANT / 1000))).toBe(INSTANT);
    expect(read('unix-milliseconds', String(INSTANT))).toBe(INSTANT);
    // Week 2048 began on 2019-04-07, 1024 weeks after the second roll-over's beginning at 1999-08-22. IS-GPS-200 counts from 1980-01-06; from memory.
    expect(read('gps-week-seconds', '2048 0')).toBe(Date.UTC(2019, 3, 7));
    expect(read('gps-week-seconds', '1024 18.25', { zoneMinutes: null, leapSeconds: 18 })).toBe(
      Date.UTC(1999, 7, 22, 0, 0, 0, 250),
    );
    expect(read('gps-week-seconds', '2048 604800')).toBeNull();
  });

  it('knows midnight and noon of clocks of twelve hours', () => {
    expect(read('YYYY-MM-DD hh:mm A', '2026-05-11 12:00 AM')).toBe(Date.UTC(2026, 4, 11, 0));
    expect(read('YYYY-MM-DD hh:mm A', '2026-05-11 12:00 p.m.')).toBe(Date.UTC(2026, 4, 11, 12));
    expect(read('YYYY-MM-DD hh:mm A', '2026-05-11 13:00 PM')).toBeNull();
  });

  it.each([
    '2026-13-01 00:00:00',
    '2026-02-29 00:00:00',
    '2026-05-11 24:00:00',
    '2026-5-11 00:00:00',
    '11.05.2026 00:00:00',
    '',
  ])('refuses %j', (text) => {
    expect(read('YYYY-MM-DD HH:mm:ss', text)).toBeNull();
  });

  it('refuses a day of the year that the year has not', () => {
    expect(read('YYYY DDD HH:mm', '2028 366 00:00')).toBe(Date.UTC(2028, 11, 31));
    expect(read('YYYY DDD HH:mm', '2026 366 00:00')).toBeNull();
  });

  it.each([
    ['yyyy-MM-dd HH:mm', '"y" is no part'],
    ['MM-DD HH:mm', 'no year'],
    ['YYYY-MM HH:mm', 'no month and day'],
    ['YYYY-MM-DD hh:mm', 'no hour'],
    ['YYYY-MM-DD HH:ss', 'no minute'],
    ['YYYY-MM-DD HH:mm:mm', 'mm says stands twice'],
    ['YYYY-MM-DD M HH:mm', 'M says stands twice'],
  ])('says why %s is none', (form, why) => {
    const made = timeForm(form);
    expect(made.isForm ? '' : made.why).toContain(why);
  });

  it('reads zones', () => {
    expect(['Z', 'UTC', '+02:00', '-0330', '+15:00', '2', 'CET'].map(zoneMinutesOf)).toEqual([
      0,
      0,
      120,
      -210,
      null,
      null,
      null,
    ]);
  });
});
