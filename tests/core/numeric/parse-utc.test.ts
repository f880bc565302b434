import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseUtc } from '../../../src/core/numeric/parse-utc.js';
import { formatUtc } from '../../../src/core/numeric/utc-text.js';

describe('parseUtc', () => {
  it('agrees with the engine\'s calendar for any instant, with and without milliseconds', () => {
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
    ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870Z'],
  ])('reads %s as %s', (text, same) => {
    expect(parseUtc(text)).toBe(parseUtc(same));
    expect(typeof parseUtc(text)).toBe('number');
  });

  it('reads a time without seconds, with spaces around it', () => {
    expect(parseUtc(' 2026-03-04T06:00Z ')).toBe(Date.UTC(2026, 2, 4, 6));
  });

  it.each(['2026-03-04T06:00:00', '2026-03-04T06:00', '2026-03-04T06:00:00.5'])('asks for the zone of %s', (text) => {
    expect(parseUtc(text)).toBe('zone');
  });

  it.each([
    '', '2026-03-04', '2026-02-29T00:00:00Z', '2026-13-01T00:00:00Z', '2026-00-01T00:00:00Z', '2026-03-00T00:00:00Z',
    '2026-03-04T24:00:00Z', '2026-03-04T06:60:00Z', '2026-03-04T06:00:60Z', '2026-03-04 06:00:00Z', '20a6-03-04T06:00:00Z',
    '2026-03-04T06:00:0xZ', '2026-03-04T06:00:00.1x5Z', '2026-03-04T06:00:00+25:00', '4 March 2026',
    '2026-03-04T06:00:00,123Z', '2026-03-04T06:00:00 123Z',
  ])('refuses %j', (text) => {
    expect(parseUtc(text)).toBe('syntax');
  });
});
