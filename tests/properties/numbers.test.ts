import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseAngle } from '../../src/core/numeric/text/angle-text.js';
import { parseDecimal } from '../../src/core/numeric/text/decimal-text.js';
import { parseUtc } from '../../src/core/numeric/text/parse-utc.js';
import { codes } from '../io/support.js';

/** Whether a text is a decimal number by the stated grammar: a machine over characters, not a pattern. */
function isDecimal(text: string, mark: string): boolean {
  const body = text.replace(/^[ \t]+/u, '').replace(/[ \t]+$/u, '');
  let at = body.startsWith('-') || body.startsWith('+') ? 1 : 0;
  let digits = 0;
  let marks = 0;
  for (; at < body.length; at += 1) {
    const c = body.charAt(at);
    if (c >= '0' && c <= '9') digits += 1;
    else if (c === mark && marks === 0) marks += 1;
    else break;
  }
  if (digits === 0) return false;
  if (at === body.length) return true;
  if (body.charAt(at).toLowerCase() !== 'e') return false;
  at += 1;
  if (body.charAt(at) === '-' || body.charAt(at) === '+') at += 1;
  const from = at;
  while (at < body.length && body.charAt(at) >= '0' && body.charAt(at) <= '9') at += 1;
  return at === body.length && at > from;
}

describe('numbers from text', () => {
  it.each(['.', ','])(
    'are those an independent grammar accepts, with the mark %s, and the value the language itself gives',
    (mark) => {
      const text = fc.string({
        unit: fc.constantFrom('0', '1', '9', '5', '.', ',', '-', '+', 'e', 'E', ' ', '\t', '_', 'x', '٣', '\u00a0'),
        maxLength: 14,
      });
      fc.assert(
        fc.property(text, (content) => {
          const got = parseDecimal(content, mark === ',');
          if (!isDecimal(content, mark)) expect(got).toBeNull();
          else {
            const expected = Number(content.replace(',', '.'));
            if (Number.isFinite(expected)) expect(got).toBe(expected);
            else expect(got).toBeNull();
          }
        }),
        { numRuns: 20_000, seed: 20261125 },
      );
    },
  );
});

describe('angles from text', () => {
  it('are the same in every spelling, and within an ulp of exact arithmetic', () => {
    const part = fc.record({
      d: fc.integer({ min: 0, max: 89 }),
      m: fc.integer({ min: 0, max: 59 }),
      s: fc.integer({ min: 0, max: 5_999_999 }),
      isSouth: fc.boolean(),
    });
    fc.assert(
      fc.property(part, ({ d, m, s, isSouth }) => {
        const seconds = `${String(Math.floor(s / 100_000))}.${String(s % 100_000).padStart(5, '0')}`;
        const letter = isSouth ? 'S' : 'N';
        const sign = isSouth ? '-' : '';
        const spellings = [
          `${String(d)}°${String(m)}'${seconds}"${letter}`,
          `${letter} ${String(d)} ${String(m)} ${seconds}`,
          `${sign}${String(d)}:${String(m)}:${seconds}`,
          ` ${sign}${String(d)}° ${String(m)}′ ${seconds}″ `,
          `${isSouth ? '\u2212' : '+'}${String(d)} ${String(m)} ${seconds}`,
        ];
        const values = spellings.map((text) => {
          const parsed = parseAngle(text, 'latitude');
          if (!parsed.ok) throw new Error(`${text}: ${codes(parsed).join()}`);
          return parsed.value;
        });
        expect(new Set(values).size).toBe(1);
        // Degrees as a whole number of hundred-thousandths of a second, divided once.
        const units = BigInt(d) * 360_000_000n + BigInt(m) * 6_000_000n + BigInt(s);
        const exact = (Number(units) / 360_000_000) * (isSouth ? -1 : 1);
        expect(Math.abs(values[0]! - exact)).toBeLessThanOrEqual(2 ** -46);
      }),
      { numRuns: 3000, seed: 20261125 },
    );
  });

  it('never are NaN, and nothing throws, for any text', () => {
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 20 }),
      fc.string({
        unit: fc.constantFrom('1', '5', '9', '°', "'", '"', ':', ' ', '-', '.', 'N', 'S', 'e', '\u2032'),
        maxLength: 16,
      }),
    );
    fc.assert(
      fc.property(text, fc.constantFrom('latitude', 'longitude', 'any'), (content, axis) => {
        const parsed = parseAngle(content, axis);
        if (parsed.ok) expect(Number.isFinite(parsed.value)).toBe(true);
        else expect(codes(parsed)[0]).toMatch(/^(?:angle-syntax|(?:latitude|longitude)-out-of-range)$/u);
      }),
      { numRuns: 10_000, seed: 20261125 },
    );
  });
});

describe('times from text', () => {
  it('are whole milliseconds or a refusal, for any text near the form', () => {
    const text = fc.string({
      unit: fc.constantFrom('2', '0', '1', '9', '-', ':', 'T', 'Z', '.', '+', ' '),
      maxLength: 26,
    });
    const near = fc
      .tuple(fc.integer({ min: 0, max: 9999 }), fc.nat(19), fc.nat(39), fc.nat(29), fc.nat(69), fc.nat(69))
      .map(
        ([y, mo, d, h, mi, s]) =>
          `${String(y).padStart(4, '0')}-${[mo, d].map((n) => String(n).padStart(2, '0')).join('-')}T${[h, mi, s].map((n) => String(n).padStart(2, '0')).join(':')}Z`,
      );
    fc.assert(
      fc.property(fc.oneof(text, near), (content) => {
        const got = parseUtc(content);
        if (typeof got === 'number') expect(Number.isInteger(got)).toBe(true);
        // The engine's own reader of the same form, where it is strict: it takes no second of 60.
        const own =
          /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/u.test(content) && !content.includes('T24') ? new Date(content) : null;
        if (own !== null && !Number.isNaN(own.getTime()) && own.toISOString().slice(0, 19) === content.slice(0, 19))
          expect(got).toBe(own.getTime());
        else if (own !== null && !content.includes(':60Z')) expect(got).toBe('syntax');
      }),
      { numRuns: 10_000, seed: 20261125 },
    );
  });
});
