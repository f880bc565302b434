import { describe, expect, it } from 'vitest';
import { ROOM_OF_AN_ANTENNA_M, standsAtOnce } from '../../../src/tasks/repeats/stands-at-once.js';
import type { TimedStand } from '../../../src/tasks/repeats/stands-at-once.js';

const stand = (startMs: number | null, endMs: number | null, eastM: number = 0): TimedStand => ({
  startMs,
  endMs,
  position: { eastM, northM: 0, upM: 0 },
});

describe('standsAtOnce', () => {
  it('finds the copy of an occupation among others, whole or cut', () => {
    const others = [stand(0, 60_000), stand(3_600_000, 3_660_000, 0.01)];
    expect(standsAtOnce([...others, stand(0, 60_000)])).toEqual({ first: 0, second: 2, fromMs: 0 });
    expect(standsAtOnce([...others, stand(3_600_000, 3_640_000, 0.013)])).toEqual({
      first: 1,
      second: 2,
      fromMs: 3_600_000,
    });
  });

  it('finds two that lie one within the other, with a third between them in time', () => {
    expect(standsAtOnce([stand(0, 100_000), stand(10_000, 20_000, 5), stand(50_000, 60_000)])).toEqual({
      first: 0,
      second: 2,
      fromMs: 50_000,
    });
  });

  it('finds nothing where one follows another, touches it, or has no time', () => {
    expect(standsAtOnce([stand(0, 60_000), stand(61_000, 90_000)])).toBeNull();
    expect(standsAtOnce([stand(0, 60_000), stand(60_000, 90_000)])).toBeNull();
    expect(standsAtOnce([stand(null, null), stand(null, null), stand(0, 60_000)])).toBeNull();
  });

  it('finds single epochs of one instant', () => {
    expect(standsAtOnce([stand(5_000, 5_000), stand(5_000, 5_000)])).not.toBeNull();
    expect(standsAtOnce([stand(5_000, 5_000), stand(6_000, 6_000)])).toBeNull();
    expect(standsAtOnce([stand(0, 5_000), stand(5_000, 5_000)])).not.toBeNull();
  });

  it('finds a copy that the base of another day moved, by its first or last instant', () => {
    expect(standsAtOnce([stand(0, 60_000), stand(0, 40_000, 800)])).toEqual({ first: 0, second: 1, fromMs: 0 });
    expect(standsAtOnce([stand(0, 60_000), stand(20_000, 60_000, 800)])).not.toBeNull();
    expect(standsAtOnce([stand(5_000, 5_000), stand(5_000, 5_000, 800)])).toBeNull();
  });

  it('leaves two points of one name, at one time and at two places, to the test of the repeats', () => {
    expect(standsAtOnce([stand(0, 60_000), stand(7_000, 67_000, ROOM_OF_AN_ANTENNA_M)])).toBeNull();
    expect(standsAtOnce([stand(0, 60_000), stand(7_000, 67_000, ROOM_OF_AN_ANTENNA_M - 0.001)])).not.toBeNull();
  });
});
