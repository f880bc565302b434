import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instantMs, parseUtc } from '../../../../src/core/numeric/text/parse-utc.js';
import { formatUtc } from '../../../../src/core/numeric/text/utc-text.js';

describe('parseUtc', () => {
  it("agrees with the engine's calendar for any instant, with and without milliseconds", () => {
    fc.assert(
      fc.property(fc.integer({ min: Date.UTC(1, 0, 1), max: Date.UTC(9999, 11, 31) }), (ms) => {
        const text = new Date(ms).toISOString();
        expect(parseUtc(text)).toBe(ms);
        expect(parseUtc(text.replace('.000Z', 'Z'))).toBe(ms);
        expect(parseUtc(formatUtc(ms))).toBe(ms);
      }),
    );
  });

  // RFC 3339 section 5.8, examples: the same instants written in other ways.
  it.each([
    ['1985-04-12T23:20:50.52Z', '1985-04-12T23:20:50.520Z'],
    ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57Z'],
    ['1990-12-31T23:59:60Z', '1991-01-01T00:00:00Z'],
    ['1990-12-31T15:59:60-08:00', '1991-01-01T00:00:00Z'],
    ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870Z'],
  ])('reads %s as %s', (text, same) => {
    expect(parseUtc(text)).toBe(parseUtc(same));
    expect(typeof parseUtc(text)).toBe('number');
  });

  it('reads a blank in place of the T', () => {
    expect(parseUtc('2026-05-11 08:10:00+02:00')).toBe(Date.UTC(2026, 4, 11, 6, 10));
    expect(parseUtc('2026-05-11 08:10:00Z')).toBe(Date.UTC(2026, 4, 11, 8, 10));
    expect(parseUtc('2026-05-11 08:10:00')).toBe('zone');
  });

  it('reads a time without seconds, with spaces around it', () => {
    expect(parseUtc(' 2026-03-04T06:00Z ')).toBe(Date.UTC(2026, 2, 4, 6));
  });

  it.each(['2026-03-04T06:00:00', '2026-03-04T06:00', '2026-03-04T06:00:00.5'])('asks for the zone of %s', (text) => {
    expect(parseUtc(text)).toBe('zone');
  });

  it.each([
    '',
    '2026-03-04',
    '2026-02-29T00:00:00Z',
    '2026-13-01T00:00:00Z',
    '2026-00-01T00:00:00Z',
    '2026-03-00T00:00:00Z',
    '2026-03-04T24:00:00Z',
    '2026-03-04T06:60:00Z',
    '2026-03-04T06:00:60Z',
    '2026-03-04  06:00:00Z',
    '2026-03-04\t06:00:00Z',
    '20a6-03-04T06:00:00Z',
    '2026-03-04T06:00:0xZ',
    '2026-03-04T06:00:00.1x5Z',
    '2026-03-04T06:00:00+25:00',
    '4 March 2026',
    '2026-03-04T23:58:60Z',
    '2026-03-04T22:59:60Z',
    '2026-03-04T23:59:61Z',
    '2026-03-04T23:59:60+05:00',
    '2026-03-04T06:00:60+01:00',
    '2026-03-04T06:00:00+24:00',
    '2026-03-04T06:00:00+01:60',
    '2026-03-04T06:00:00X',
    '2026-03-04T06:00:00.123X',
    '2026/03-04T06:00:00Z',
    '2026-03/04T06:00:00Z',
    '2026-03-04T06.00:00Z',
    '2026-03-04T06:00.00Z',
    '2026-03-04t06:00:00Z',
    '2026-03-1/T06:00:00Z',
    '2026-03-04T06:00:1:Z',
    '2026-03-04T06:00:00.12Z0',
    '2026-03-04T06:00:00.Z',
    '2026-03-04T06:00:00.1234567891Z',
    'x2026-03-04T06:00:00Z',
    '2026-03-04T06:00:00Zx',
    '26-03-04T06:00:00Z',
    '2026-02-30T00:00:00Z',
    '2026-04-31T00:00:00Z',
    '2026-01-32T00:00:00Z',
    '2026-03-04T06:00:00,123Z',
    '2026-03-04T06:00:00 123Z',
  ])('refuses %j', (text) => {
    expect(parseUtc(text)).toBe('syntax');
  });
});

describe('the calendar of parseUtc', () => {
  it('has the twelve lengths of the months', () => {
    for (let month = 1; month <= 12; month += 1) {
      const text = (year: number, day: number): string =>
        `${String(year)}-${String(month).padStart(2, '0')}-${String(day)}T00:00:00Z`;
      for (const year of [2023, 2024]) {
        const last = new Date(Date.UTC(year, month, 0)).getUTCDate();
        expect(parseUtc(text(year, last))).toBe(Date.UTC(year, month - 1, last));
        expect(parseUtc(text(year, last + 1))).toBe('syntax');
      }
    }
  });

  // ISO 8601-1:2019 section 4.2.1: centuries are leap years only where they divide by 400.
  it.each([
    [1600, true],
    [1700, false],
    [1900, false],
    [1996, true],
    [2000, true],
    [2023, false],
    [2024, true],
    [2100, false],
    [2400, true],
  ])('of %i: a 29th of February is %s', (year, exists) => {
    expect(parseUtc(`${String(year)}-02-29T12:00:00Z`)).toBe(exists ? Date.UTC(year, 1, 29, 12) : 'syntax');
    expect(parseUtc(`${String(year)}-03-01T00:00:00Z`)).toBe(Date.UTC(year, 2, 1));
  });

  it('takes the last hour, minute and second, with and without thousandths', () => {
    expect(parseUtc('2026-12-31T23:59:59Z')).toBe(Date.UTC(2026, 11, 31, 23, 59, 59));
    expect(parseUtc('2026-12-31T23:59:59.999Z')).toBe(Date.UTC(2026, 11, 31, 23, 59, 59, 999));
    expect(parseUtc('2026-01-01T09:08:07.654Z')).toBe(Date.UTC(2026, 0, 1, 9, 8, 7, 654));
  });

  it('takes offsets to their ends, either way', () => {
    expect(parseUtc('2026-03-04T06:00:00+23:59')).toBe(Date.UTC(2026, 2, 3, 6, 1));
    expect(parseUtc('2026-03-04T06:00:00-23:59')).toBe(Date.UTC(2026, 2, 5, 5, 59));
    expect(parseUtc('2026-03-04T06:00:00.25+02:00')).toBe(Date.UTC(2026, 2, 4, 4, 0, 0, 250));
  });

  it('rounds a finer fraction to the nearest thousandth', () => {
    expect(parseUtc('2026-03-04T06:00:00.1234Z')).toBe(Date.UTC(2026, 2, 4, 6, 0, 0, 123));
    expect(parseUtc('2026-03-04T06:00:00.9999Z')).toBe(Date.UTC(2026, 2, 4, 6, 0, 1));
  });

  it('keeps the fraction of a leap second, and asks for its zone', () => {
    expect(parseUtc('2016-12-31T23:59:60.5Z')).toBe(Date.UTC(2017, 0, 1, 0, 0, 0, 500));
    expect(parseUtc('2017-01-01T00:59:60.5+01:00')).toBe(Date.UTC(2017, 0, 1, 0, 0, 0, 500));
    expect(parseUtc('2017-01-01T00:59:60')).toBe('zone');
  });
});

describe('instantMs', () => {
  it('takes a leap second as the start of the next day, and no other second of 60', () => {
    expect(instantMs(2016, 12, 31, 23, 59, 60)).toBe(Date.UTC(2017, 0, 1));
    expect(instantMs(2016, 12, 31, 22, 59, 60)).toBeNull();
    expect(instantMs(2016, 12, 31, 23, 58, 60)).toBeNull();
    expect(instantMs(2016, 12, 31, 23, 59, 61)).toBeNull();
  });
});
