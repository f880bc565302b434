import { describe, expect, it } from 'vitest';
import type { Constellation, ObservationsMessage } from '../../../../src/records/corrections/correction-message.js';
import type { StreamCalendar } from '../../../../src/records/corrections/correction-audit.js';
import { createStreamClock } from '../../../../src/tasks/corrections/time/stream-clock.js';
import type { StreamClock } from '../../../../src/tasks/corrections/time/stream-clock.js';
import { createTimeChecks } from '../../../../src/tasks/corrections/time/time-checks.js';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const WEEK = 7 * DAY;
/** 2026-03-01, a Sunday: GPS weeks begin with it. The modified Julian day of 1970-01-01 is 40587. */
const SUNDAY = Date.UTC(2026, 2, 1);
const julian = (utcMs: number): number => 40_587 + Math.floor(utcMs / DAY);

const message = (timeMs: number, own: Partial<ObservationsMessage> = {}): ObservationsMessage =>
  ({
    kind: 'observations',
    constellation: 'GPS',
    clock: 'week',
    timeMs,
    dayOfWeek: null,
    ...own,
  }) as ObservationsMessage;
/** A time of GLONASS: of the Moscow day, UTC + 3 h. */
const moscow = (utcOfDayMs: number, dayOfWeek: number | null = null): ObservationsMessage =>
  message((utcOfDayMs + 3 * HOUR) % DAY, { constellation: 'GLONASS' as Constellation, clock: 'day', dayOfWeek });

describe('the clock of a stream', () => {
  it('counts on over the end of a week, in one file and from one to the next', () => {
    const clock = createStreamClock();
    clock.begin();
    expect(clock.now()).toBeNull();
    expect(clock.observed(message(WEEK - 1000)).ms).toBe(WEEK - 1000);
    expect(clock.observed(message(0)).ms).toBe(WEEK);
    expect(clock.now()).toBe(WEEK);
    clock.begin();
    expect(clock.now()).toBeNull();
    // The next file lies in the week that follows the last one, or overlaps with its last day.
    expect(clock.observed(message(2 * DAY)).ms).toBe(WEEK + 2 * DAY);
    clock.begin();
    expect(clock.observed(message(1.5 * DAY)).ms).toBe(WEEK + 1.5 * DAY);
    clock.begin();
    expect(clock.observed(message(0.25 * DAY)).ms).toBe(2 * WEEK + 0.25 * DAY);
  });

  it('goes by GLONASS only where nothing else shows the time', () => {
    const clock = createStreamClock();
    clock.begin();
    // A day without its number has no week to lie in.
    expect(clock.observed(moscow(HOUR)).ms).toBeNull();
    // 18 s between GPS time and UTC since 2017.
    expect(clock.observed(moscow(HOUR, 2)).ms).toBe(2 * DAY + HOUR + 18_000);
    expect(clock.observed(moscow(HOUR + 1000)).ms).toBe(2 * DAY + HOUR + 19_000);
    expect(clock.observed(message(2 * DAY + HOUR + 20_000)).ms).toBe(2 * DAY + HOUR + 20_000);
    expect(clock.observed(moscow(HOUR + 9000)).ms).toBe(2 * DAY + HOUR + 20_000);
    clock.begin();
    // A new file: its day is the one nearest to what was shown last.
    expect(clock.observed(moscow(2 * HOUR)).ms).toBe(2 * DAY + 2 * HOUR + 18_000);
  });
});

describe('the date of a stream', () => {
  const started = (firstMs: number | null, then: (clock: StreamClock) => void = () => undefined): StreamClock => {
    const clock = createStreamClock();
    clock.begin();
    if (firstMs !== null) clock.observed(message(firstMs));
    then(clock);
    return clock;
  };
  const calendar = (clock: StreamClock, dateMs: number | null = null, leapS: number | null = null): StreamCalendar =>
    clock.calendar(dateMs, leapS);

  it('is not known, and the seconds between GPS time and UTC are those of today, where nothing says either', () => {
    expect(calendar(started(HOUR))).toEqual({
      zeroMs: null,
      dateFrom: null,
      leapSeconds: 18,
      leapFrom: 'assumed',
      statedOffS: null,
    });
    expect(calendar(started(HOUR), null, 17)).toMatchObject({ leapSeconds: 17, leapFrom: 'reconciled' });
  });

  it.each([
    ['in the morning of a Wednesday', 3 * DAY + 6 * HOUR, SUNDAY + 3 * DAY, SUNDAY],
    ['with the first second of the day in UTC', 3 * DAY + 18_000, SUNDAY + 3 * DAY, SUNDAY],
    ['with the second before it', 3 * DAY + 17_000, SUNDAY + 3 * DAY, null],
    ['which is the last one of the day before', 3 * DAY + 17_000, SUNDAY + 2 * DAY, SUNDAY],
    ['on another day of the week', 3 * DAY + 6 * HOUR, SUNDAY + 4 * DAY, null],
    ['in the first seconds of a week, still Saturday in UTC', 10_000, SUNDAY - DAY, SUNDAY],
    ['on Saturday evening', 6 * DAY + 23 * HOUR, SUNDAY + 6 * DAY, SUNDAY],
  ])('as it is said fits one %s', (_, firstMs, dateMs, zeroMs) => {
    expect(calendar(started(firstMs), dateMs)).toMatchObject({ zeroMs, dateFrom: 'option', leapFrom: 'table' });
  });

  it('as it is said is that of the week of a stream without observations', () => {
    expect(calendar(started(null), SUNDAY + 2 * DAY)).toMatchObject({ zeroMs: SUNDAY });
    // 16 s before July 2015, by the table of IERS Bulletin C.
    expect(calendar(started(null), Date.UTC(2014, 5, 1))).toMatchObject({ leapSeconds: 16, leapFrom: 'table' });
  });

  it('comes from a message that says it, with how far it is off', () => {
    const utcMs = SUNDAY + 3 * DAY + 6 * HOUR;
    const clock = started(3 * DAY + 6 * HOUR + 18_000, (own) => {
      own.dated(julian(utcMs), 6 * 3600, 18);
    });
    expect(calendar(clock)).toEqual({
      zeroMs: SUNDAY,
      dateFrom: 'message',
      leapSeconds: 18,
      leapFrom: 'announced',
      statedOffS: 0,
    });
    // A date that is said goes before it; the message is then a week off.
    expect(calendar(clock, SUNDAY + 10 * DAY)).toMatchObject({
      dateFrom: 'option',
      zeroMs: SUNDAY + WEEK,
      statedOffS: -WEEK / 1000,
    });
    // Of several the farthest counts: two seconds ahead, three behind.
    const several = started(3 * DAY + 6 * HOUR + 18_000, (own) => {
      own.dated(julian(utcMs), 6 * 3600, null);
      own.dated(julian(utcMs), 6 * 3600 + 2, null);
      own.dated(julian(utcMs), 6 * 3600 - 3, null);
    });
    expect(calendar(several)).toMatchObject({ zeroMs: SUNDAY, leapFrom: 'table', statedOffS: -3 });
  });

  it('takes the first seconds between GPS time and UTC that can be such', () => {
    const said = (...seconds: readonly (number | null)[]): unknown =>
      calendar(
        started(null, (clock) => {
          for (const leap of seconds) clock.dated(julian(SUNDAY), 0, leap);
        }),
        null,
        15,
      );
    expect(said(0, 255, 17, 18)).toMatchObject({ leapSeconds: 17, leapFrom: 'announced', zeroMs: null });
    expect(said(12, 31, null)).toMatchObject({ leapSeconds: 15, leapFrom: 'reconciled' });
    expect(said(13)).toMatchObject({ leapSeconds: 13 });
    expect(said(30)).toMatchObject({ leapSeconds: 30 });
  });
});

describe('times of constellations of one epoch', () => {
  const of = (constellation: string, timeMs: number): ObservationsMessage =>
    message(timeMs, { constellation: constellation as Constellation });
  const checked = (...epochs: readonly (readonly ObservationsMessage[])[]) => {
    const checks = createTimeChecks();
    for (const one of epochs) checks.compare(one);
    return checks;
  };

  it('agree to a hundredth of a second; BeiDou is 14 s behind GPS', () => {
    const checks = checked(
      [of('GPS', HOUR), of('Galileo', HOUR + 10), of('BeiDou', HOUR - 14_000)],
      [of('GPS', HOUR), of('Galileo', HOUR - 4), of('BeiDou', HOUR)],
      [of('GPS', HOUR), of('Galileo', HOUR + 11)],
    );
    expect(checks.result(null)).toEqual([
      { constellation: 'Galileo', against: 'GPS', compared: 3, disagreeing: 1, largestMs: 10 },
      { constellation: 'BeiDou', against: 'GPS', compared: 2, disagreeing: 1, largestMs: 0 },
    ]);
    expect(checks.leapSeconds()).toBeNull();
  });

  it('with GLONASS say the seconds between GPS time and UTC, those that most epochs say', () => {
    const pair = (leapMs: number): readonly ObservationsMessage[] => [of('GPS', HOUR + leapMs), moscow(HOUR)];
    const checks = checked(pair(18_000), pair(17_000), pair(18_010), pair(18_011), pair(12_000));
    expect(checks.leapSeconds()).toBe(18);
    expect(checks.result(null)).toEqual([
      { constellation: 'GLONASS', against: 'GPS', compared: 5, disagreeing: 3, largestMs: 10 },
    ]);
    expect(checks.result(17)).toMatchObject([{ compared: 5, disagreeing: 4, largestMs: 0 }]);
    expect(checks.result(16)).toMatchObject([{ compared: 5, disagreeing: 5, largestMs: 0 }]);
  });

  it('say nothing without one that counts weeks', () => {
    const checks = checked([moscow(HOUR), moscow(HOUR + 1)], []);
    expect(checks.result(null)).toEqual([]);
    expect(checks.leapSeconds()).toBeNull();
  });
});
