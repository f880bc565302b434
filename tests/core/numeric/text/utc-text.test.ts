import { describe, expect, it } from 'vitest';
import { formatUtc } from '../../../../src/core/numeric/text/utc-text.js';

describe('formatUtc', () => {
  it.each([
    [Date.UTC(2026, 2, 4, 6, 5, 9), '2026-03-04T06:05:09Z'],
    [Date.UTC(2026, 2, 4, 6, 5, 9, 5), '2026-03-04T06:05:09.005Z'],
    [Date.UTC(2026, 2, 4, 6, 5, 9, 50), '2026-03-04T06:05:09.050Z'],
    [Date.UTC(2026, 11, 31, 23, 59, 59, 999), '2026-12-31T23:59:59.999Z'],
    [-1, '1969-12-31T23:59:59.999Z'],
    [0, '1970-01-01T00:00:00Z'],
    // 719 162 days from 0001-01-01 to 1970-01-01; 36 524 in the first century.
    [-719162 * 86400000, '0001-01-01T00:00:00Z'],
    [(36524 - 719162) * 86400000, '0101-01-01T00:00:00Z'],
  ])('writes %d as %s', (ms, text) => {
    expect(formatUtc(ms)).toBe(text);
  });

  it("agrees with the engine's calendar on every day about the ends of February and of the year, for 800 years", () => {
    for (let year = 1600; year <= 2400; year += 1) {
      for (const [month, day] of [
        [0, 1],
        [1, 28],
        [1, 29],
        [2, 1],
        [2, 31],
        [6, 31],
        [11, 30],
        [11, 31],
      ] as const) {
        const ms = Date.UTC(year, month, day, 12);
        expect(formatUtc(ms)).toBe(new Date(ms).toISOString().replace('.000Z', 'Z'));
      }
    }
  });
});
