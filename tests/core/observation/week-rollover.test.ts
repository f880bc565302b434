import { describe, expect, it } from 'vitest';
import { rolledOverFrom } from '../../../src/core/observation/week-rollover.js';

const DAY_MS = 86_400_000;
const WEEKS_MS = 1024 * 7 * DAY_MS;
const at = (text: string): number => Date.parse(text);
const NOW = at('2026-03-04T10:00:00Z');

describe('rolledOverFrom', () => {
  it('adds 1024 weeks, as often as it takes, to an instant before 2 May 2000', () => {
    expect(rolledOverFrom(at('2000-05-01T23:59:59Z'), [])).toBe(at('2000-05-01T23:59:59Z') + WEEKS_MS);
    expect(rolledOverFrom(at('2000-05-02T00:00:00Z'), [])).toBeNull();
    // A receiver of 1980 needs two.
    expect(rolledOverFrom(at('1980-02-01T00:00:00Z'), [])).toBe(at('1980-02-01T00:00:00Z') + 2 * WEEKS_MS);
  });

  it('adds three at most', () => {
    const early = at('2000-05-02T00:00:00Z') - 3 * WEEKS_MS;
    expect(rolledOverFrom(early, [])).toBe(at('2000-05-02T00:00:00Z'));
    expect(rolledOverFrom(early - 1, [])).toBeNull();
  });

  it('goes by a span in which work was done, with a day on either side', () => {
    const spans = [{ fromMs: NOW, toMs: NOW + DAY_MS }];
    // Plausible by itself, and known to be of another time.
    expect(rolledOverFrom(NOW - WEEKS_MS, spans)).toBe(NOW);
    expect(rolledOverFrom(NOW - WEEKS_MS - DAY_MS, spans)).toBe(NOW - DAY_MS);
    expect(rolledOverFrom(NOW - WEEKS_MS - DAY_MS - 1, spans)).toBeNull();
    expect(rolledOverFrom(NOW - WEEKS_MS + 2 * DAY_MS, spans)).toBe(NOW + 2 * DAY_MS);
    expect(rolledOverFrom(NOW - WEEKS_MS + 2 * DAY_MS + 1, spans)).toBeNull();
    expect(rolledOverFrom(NOW, spans)).toBeNull();
  });

  it('leaves an instant alone that is in a span as logged, however old', () => {
    const old = at('1999-03-04T10:00:00Z');
    expect(rolledOverFrom(old, [{ fromMs: old, toMs: old }])).toBeNull();
  });

  it('learns nothing from a span that is open on a side', () => {
    const logged = NOW - WEEKS_MS;
    expect(rolledOverFrom(logged, [{ fromMs: null, toMs: NOW + DAY_MS }])).toBeNull();
    expect(rolledOverFrom(logged, [{ fromMs: NOW, toMs: null }])).toBeNull();
    expect(
      rolledOverFrom(logged, [
        { fromMs: null, toMs: null },
        { fromMs: NOW, toMs: NOW },
      ]),
    ).toBe(NOW);
  });
});
