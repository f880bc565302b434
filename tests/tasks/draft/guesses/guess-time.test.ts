import { describe, expect, it } from 'vitest';
import { entryAt, present } from '../../../../src/records/present.js';
import { columnProfiles } from '../../../../src/tasks/draft/columns/column-profile.js';
import type { ColumnProfile } from '../../../../src/tasks/draft/columns/column-profile.js';
import { guessTime, isClock, isDate } from '../../../../src/tasks/draft/guesses/guess-time.js';

const column = (header: string, ...cells: readonly string[]): ColumnProfile =>
  entryAt(
    columnProfiles(
      [header],
      null,
      cells.map((cell) => [cell]),
      false,
    ),
    0,
  );
const valueOf = (header: string, ...cells: readonly string[]): unknown => guessTime([column(header, ...cells)]).value;
const whyOf = (header: string, ...cells: readonly string[]): string =>
  guessTime([column(header, ...cells)]).why.join(' | ');

describe('times that state themselves', () => {
  it('are ISO 8601 with a zone: nothing is to be said of them', () => {
    expect(valueOf('time', '2026-03-04T10:00:00Z', '2026-03-04T10:00:01+02:00')).toBe('time');
    expect(whyOf('time', '2026-03-04T10:00:00Z')).toBe('times such as 2026-03-04T10:00:00Z, which state their zone');
  });

  it('unless the header says GPS, which they are not', () => {
    expect(valueOf('GPS time', '2026-03-04T10:00:00Z')).toEqual({ header: 'GPS time', scale: '?' });
    expect(valueOf('GPST', '2026-03-04T10:00:00Z')).toEqual({ header: 'GPST', scale: '?' });
    expect(whyOf('GPS time', '2026-03-04T10:00:00Z')).toContain('leap_seconds = 18');
  });
});

describe('counted times', () => {
  it.each([
    [
      'week second',
      '2408 295200.0',
      { header: 'week second', form: 'gps-week-seconds', scale: 'gps', leap_seconds: 18 },
    ],
    ['time', '1772618400', { header: 'time', form: 'unix-seconds' }],
    ['time', '1772618400.25', { header: 'time', form: 'unix-seconds' }],
    ['time', '1772618400123', { header: 'time', form: 'unix-milliseconds' }],
  ])('in %s: %s', (header, cell, value) => {
    expect(valueOf(header, cell, cell)).toEqual(value);
  });

  it('are such in every row', () => {
    expect(valueOf('time', '1772618400', '177261840')).toMatchObject({ form: '?' });
    expect(valueOf('time', '1772618400123', '1772618400')).toMatchObject({ form: '?' });
  });
});

describe('times of a calendar', () => {
  it.each([
    ['2026-03-04 10:00:00', 'YYYY-MM-DD HH:mm:ss'],
    ['2026-3-4 9:05:00', 'YYYY-M-D H:mm:ss'],
    ['2026/03/04 10:00', 'YYYY/MM/DD HH:mm'],
    ['2026-03-04T10:00:00', 'YYYY-MM-DDTHH:mm:ss'],
    ['20260304 100000', 'YYYYMMDD HHmmss'],
    ['20260304 1000', 'YYYYMMDD HHmm'],
    ['23.03.2026 10:00:00', 'DD.MM.YYYY HH:mm:ss'],
    ['23.3.2026 10:00:00', 'D.M.YYYY HH:mm:ss'],
    ['03/23/2026 10:00:00', 'MM/DD/YYYY HH:mm:ss'],
    ['3/23/26 10:00:00', 'M/D/YY HH:mm:ss'],
    ['23-Mar-2026 10:00:00', 'D-MMM-YYYY HH:mm:ss'],
    ['03/23/2026 01:05:06 PM', 'MM/DD/YYYY hh:mm:ss A'],
    ['03/23/2026 1:05PM', 'MM/DD/YYYY h:mmA'],
  ])('%s is %s', (cell, form) => {
    expect(valueOf('time', cell)).toEqual({ header: 'time', form, zone: '?' });
    expect(whyOf('time', cell)).toContain('their zone is not said');
    expect(guessTime([column('time', cell)]).read?.(cell)).not.toBeNull();
  });

  it('ask where no row says which is the day', () => {
    expect(valueOf('time', '03/04/2026 10:00:00')).toEqual({ header: 'time', form: '?', zone: '?' });
    expect(whyOf('time', '03/04/2026 10:00:00')).toContain('write DD/MM/YYYY HH:mm:ss or MM/DD/YYYY HH:mm:ss');
    expect(valueOf('time', '03/04/2026 10:00:00', '03/24/2026 10:00:00')).toMatchObject({
      form: 'MM/DD/YYYY HH:mm:ss',
    });
    expect(guessTime([column('time', '03/04/2026 10:00:00')]).read).toBeNull();
  });

  it('ask where the form is none that is known', () => {
    expect(valueOf('time', 'noon')).toEqual({ header: 'time', form: '?', zone: '?' });
    expect(whyOf('time', 'noon')).toContain('in a form that is not known');
  });

  it('take their zone from the cell, the header, or nobody', () => {
    expect(valueOf('time', '23.03.2026 10:00:00+02:00')).toEqual({ header: 'time', form: 'DD.MM.YYYY HH:mm:ssZ' });
    for (const header of ['time UTC', 'GMT time', 'Zulu', 'TU'])
      expect(valueOf(header, '23.03.2026 10:00:00')).toMatchObject({ zone: 'Z' });
    expect(valueOf('time (UTC)', '23.03.2026 10:00:00')).toMatchObject({ zone: 'Z' });
  });

  it('of GPS have the leap seconds since 2017; earlier ones are asked', () => {
    // IERS Bulletin C 52: GPS − UTC is 18 s from 2017-01-01T00:00:00Z; from memory.
    expect(valueOf('GPS time', '2017-01-01 00:00:00')).toMatchObject({ scale: 'gps', leap_seconds: 18 });
    expect(valueOf('GPS time', '2016-12-31 23:59:59')).toMatchObject({ scale: 'gps', leap_seconds: '?' });
    expect(whyOf('GPS time', '2017-01-01 00:00:00')).toContain('GPS time is 18 s ahead of UTC since 2017');
    expect(whyOf('GPS time', '2016-12-31 23:59:59')).toContain('write GPS time minus UTC at that time');
  });
});

describe('a date and a time of day in two columns', () => {
  const date = column('date', '23.03.2026', '24.03.2026');
  const clock = column('time', '10:00:00', '11:00:00');

  it('are read together', () => {
    const { value, read } = guessTime([date, clock]);
    expect(value).toEqual({ header: ['date', 'time'], form: 'DD.MM.YYYY HH:mm:ss', zone: '?' });
    expect(present(read, 'a reader')('23.03.2026 10:00:00')).toBe(Date.UTC(2026, 2, 23, 10));
  });

  it.each([
    ['10:00', true],
    ['9:05:06', true],
    ['10:00:00.25', true],
    ['10:00:00,25', true],
    ['1:05 PM', true],
    ['1:05a.m.', true],
    ['100000', true],
    ['235959.5', true],
    ['240000', false],
    ['10000', false],
    ['2026-03-04', false],
    ['10:00:00Z', false],
  ])('%s is a time of day: %s', (cell, is) => {
    expect(isClock(column('t', cell))).toBe(is);
    expect(isClock(column('t', '10:00', cell))).toBe(is && !/^\d+(?:\.\d+)?$/u.test(cell));
  });

  it.each([
    ['20260304', true],
    ['2026-03-04', true],
    ['4.3.2026', true],
    ['4 Mar 2026', true],
    ['04-Mar-2026', true],
    ['10:00', false],
    ['2026', false],
  ])('%s is a date: %s', (cell, is) => {
    expect(isDate(column('t', cell))).toBe(is);
    expect(isDate(column('t', cell, 'x'))).toBe(false);
  });

  it('are neither where the column is empty', () => {
    expect(isClock(column('t'))).toBe(false);
    expect(isDate(column('t'))).toBe(false);
  });
});

describe('what is said of the zone', () => {
  it('is a question where nobody says it, and no word more where the header does', () => {
    expect(whyOf('time', '2026-03-04 10:00:00')).toBe(
      'times such as 2026-03-04 10:00:00 | their zone is not said: write "Z" for UTC, or such as "+02:00"',
    );
    expect(whyOf('time UTC', '2026-03-04 10:00:00')).toBe('times such as 2026-03-04 10:00:00');
    expect(whyOf('time GPS', '2026-03-04 10:00:00')).toBe(
      'times such as 2026-03-04 10:00:00 | the header says GPS; GPS time is 18 s ahead of UTC since 2017',
    );
    // Before 2017 it was less.
    expect(whyOf('time GPS', '2016-03-04 10:00:00')).toBe(
      'times such as 2016-03-04 10:00:00 | write GPS time minus UTC at that time',
    );
  });

  it('is read without a zone, to the second', () => {
    const made = guessTime([column('time', '2026-03-04 10:00:00')]);
    expect(made.read?.('2026-03-04 10:00:00')).toBe(Date.UTC(2026, 2, 4, 10));
    expect(guessTime([column('time', '2026-03-04T10:00:00Z')]).read?.('2026-03-04T10:00:00Z')).toBe(
      Date.UTC(2026, 2, 4, 10),
    );
    expect(guessTime([column('time', '2026-03-04T10:00:00Z')]).read?.('noon')).toBeNull();
  });

  it('is no matter of weeks where the header says week and the cells are none', () => {
    expect(valueOf('week day', '2026-03-04 10:00:00')).toMatchObject({ form: 'YYYY-MM-DD HH:mm:ss' });
  });
});
