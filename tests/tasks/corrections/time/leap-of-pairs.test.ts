import { describe, expect, it } from 'vitest';
import type { ObservationsMessage } from '../../../../src/records/corrections/correction-message.js';
import { createLeapOfPairs } from '../../../../src/tasks/corrections/time/leap-of-pairs.js';

const HOUR_MS = 3_600_000;
/** GPS at a time of its week, and GLONASS at the time of day of Moscow, which is UTC and three hours. RTCM-10403, from memory. */
const gps = (timeMs: number, own = {}): ObservationsMessage =>
  ({ clock: 'week', timeMs, stationId: 1, isFollowed: true, ...own }) as unknown as ObservationsMessage;
const glonass = (ofGpsMs: number, leapS: number, offMs = 0, own = {}): ObservationsMessage =>
  ({
    clock: 'day',
    timeMs: (ofGpsMs - 1000 * leapS + offMs + 3 * HOUR_MS) % (24 * HOUR_MS),
    stationId: 1,
    isFollowed: false,
    ...own,
  }) as unknown as ObservationsMessage;
const leapOf = (...messages: readonly ObservationsMessage[]): number | null => {
  const pairs = createLeapOfPairs();
  for (const message of messages) pairs.add(message);
  return pairs.leapSeconds();
};
const NOON = 12 * HOUR_MS;

describe('the seconds between GPS time and UTC by GLONASS beside GPS', () => {
  it('are those of one epoch of one station, whichever comes first', () => {
    expect(leapOf(gps(NOON), glonass(NOON, 18))).toBe(18);
    expect(leapOf(glonass(NOON, 17, 0, { isFollowed: true }), gps(NOON))).toBe(17);
    expect(leapOf(gps(NOON))).toBeNull();
  });
  it('are not of another epoch, another station or one constellation', () => {
    expect(leapOf(gps(NOON, { isFollowed: false }), glonass(NOON, 18))).toBeNull();
    expect(leapOf(gps(NOON), glonass(NOON, 18, 0, { stationId: 2 }))).toBeNull();
    expect(leapOf(gps(NOON), gps(NOON))).toBeNull();
    expect(leapOf(glonass(NOON, 18, 0, { isFollowed: true }), glonass(NOON, 18))).toBeNull();
  });
  it('are whole to a hundredth of a second', () => {
    for (const offMs of [-10, 10]) expect(leapOf(gps(NOON), glonass(NOON, 18, offMs))).toBe(18);
    for (const offMs of [-11, 11]) expect(leapOf(gps(NOON), glonass(NOON, 18, offMs))).toBeNull();
  });
  it('are what most pairs say, and of equals what was first', () => {
    const pair = (leapS: number) => [gps(NOON), glonass(NOON, leapS)];
    expect(leapOf(...pair(17), ...pair(18))).toBe(17);
    expect(leapOf(...pair(17), ...pair(18), ...pair(18))).toBe(18);
    expect(leapOf(...pair(17), ...pair(18), ...pair(18), ...pair(17))).toBe(18);
    expect(leapOf(...pair(17), ...pair(18), ...pair(18), ...pair(17), ...pair(17))).toBe(17);
  });
});
