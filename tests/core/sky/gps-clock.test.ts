import { describe, expect, it } from 'vitest';
import { gpsFromUtc, instantOfWeek, nearestAtSecondOfWeek, secondOfWeek } from '../../../src/core/sky/gps-clock.js';

const utc = (text: string): number => Date.parse(text);

describe('the clock of GPS', () => {
  // Source: IERS-BULLETIN-C, 13 s from 1999, 17 s from July 2015, 18 s from 2017.
  it('is ahead of UTC by the leap seconds of the day, and not told before 1999', () => {
    expect(gpsFromUtc(utc('2025-08-02T00:00:00Z'))).toBe(utc('2025-08-02T00:00:18Z'));
    expect(gpsFromUtc(utc('2016-12-31T23:59:59Z'))).toBe(utc('2017-01-01T00:00:16Z'));
    expect(gpsFromUtc(utc('1998-12-31T23:59:59Z'))).toBeNull();
  });

  // The first record of the real file: 7 March 2024, 02:00, a Thursday, is second 352800.
  it('counts the seconds of a week from Sunday', () => {
    expect(secondOfWeek(utc('2024-03-07T02:00:00Z'))).toBe(352_800);
    expect(secondOfWeek(utc('1980-01-06T00:00:00Z'))).toBe(0);
    expect(secondOfWeek(utc('1980-01-05T23:59:59Z'))).toBe(604_799);
  });

  it('finds the second of a week nearest to an instant, across the change of week too', () => {
    expect(nearestAtSecondOfWeek(utc('2024-03-07T02:00:16Z'), 352_800)).toBe(utc('2024-03-07T02:00:00Z'));
    expect(nearestAtSecondOfWeek(utc('2024-03-09T23:59:00Z'), 0)).toBe(utc('2024-03-10T00:00:00Z'));
    expect(nearestAtSecondOfWeek(utc('2024-03-10T00:30:00Z'), 604_000)).toBe(utc('2024-03-09T23:46:40Z'));
  });

  // 7 April 2019, 00:00 GPS time, is the beginning of week 2048; weeks of ten bits begin again there.
  it('takes a week of ten bits for the one nearest to the day asked for', () => {
    const first = utc('2019-04-07T00:00:00Z');
    expect(instantOfWeek(0, 0, utc('2019-05-01T00:00:00Z'))).toBe(first);
    expect(instantOfWeek(1023, 604_799, utc('2019-05-01T00:00:00Z'))).toBe(first - 1000);
    expect(instantOfWeek(0, 0, utc('1999-09-01T00:00:00Z'))).toBe(utc('1999-08-22T00:00:00Z'));
    expect(instantOfWeek(2048, 0, utc('1999-09-01T00:00:00Z'))).toBe(first);
  });
});
