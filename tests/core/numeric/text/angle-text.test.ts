import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AngleAxis } from '../../../../src/core/numeric/text/angle-text.js';
import { formatDms, parseAngle } from '../../../../src/core/numeric/text/angle-text.js';
import { readReferenceTable } from '../../../support/read-reference-table.js';

function codeOf(text: string, axis: AngleAxis, decimalComma = false): string {
  const outcome = parseAngle(text, axis, decimalComma);
  return outcome.ok ? `read as ${String(outcome.value)}` : (outcome.problems[0]?.code ?? 'none');
}

function valueOf(text: string, axis: AngleAxis, decimalComma = false): number {
  const outcome = parseAngle(text, axis, decimalComma);
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message);
  return outcome.value;
}

const rows = readReferenceTable('angles').map((row) => ({ name: row.case, row, axis: row.text('axis') as AngleAxis }));

describe('published angles', () => {
  it.each(rows)('$name is read as published and printed as published', ({ row, axis }) => {
    const degrees = valueOf(row.text('text'), axis);
    const value = row.text('expected_unit') === 'rad' ? (degrees * Math.PI) / 180 : degrees;
    expect(Math.abs(value - row.number('expected'))).toBeLessThanOrEqual(row.tolerance);
    expect(formatDms(degrees, axis, row.number('decimals'))).toBe(row.text('dms'));
  });
});

describe('parseAngle', () => {
  const south = -(25 + 43 / 60 + 55.302 / 3600);

  it.each([
    `25°43'55.302"S`,
    `25° 43' 55.302" S`,
    `S 25°43'55.302"`,
    `25°43′55.302″S`,
    `25º43’55.302”s`,
    `25°43'55.302''S`,
    '-25:43:55.302',
    '\u221225:43:55.302',
    '25 43 55.302 S',
    '  -25  43 55.302\t',
    '25\u00a043\u00a055.302\u00a0S',
    '-25.732028333333333',
    '25.732028333333333 S',
    '25.732028333333333°S',
  ])('reads %s', (text) => {
    expect(valueOf(text, 'latitude')).toBeCloseTo(south, 13);
  });

  it('reads degrees and minutes without seconds', () => {
    expect(valueOf(`25°43.9217'S`, 'latitude')).toBeCloseTo(-(25 + 43.9217 / 60), 13);
    expect(valueOf('25 43.9217 S', 'latitude')).toBeCloseTo(-(25 + 43.9217 / 60), 13);
    expect(valueOf('25:43.9217', 'longitude')).toBeCloseTo(25 + 43.9217 / 60, 13);
    expect(valueOf('25°', 'longitude')).toBe(25);
  });

  it('reads decimal degrees with a mark or a letter to the same number as without', () => {
    for (let i = 1; i < 900; i += 1) {
      // Such as 0.04123°, which comes back from seconds changed in its last bit.
      const text = `${String(Math.floor(i / 10))}.${String(i % 10)}4123`;
      expect(valueOf(`${text}°`, 'any')).toBe(Number(text));
      expect(valueOf(`${text} S`, 'latitude')).toBe(-Number(text));
    }
  });

  it('refuses a part of more digits than a number holds', () => {
    const many = '9'.repeat(400);
    for (const text of [many, `1 ${many}`, `1:2:${many}`]) expect(codeOf(text, 'longitude')).toBe('angle-syntax');
  });

  it('keeps the sign of angles between -1 and 0 degrees', () => {
    expect(valueOf('-0:30', 'latitude')).toBe(-0.5);
    expect(valueOf(`0°00'36"W`, 'longitude')).toBeCloseTo(-0.01, 15);
  });

  it('makes negative zero plain zero', () => {
    for (const text of ['-0', '-0:00:00', `0°00'00"S`]) expect(Object.is(valueOf(text, 'latitude'), 0)).toBe(true);
  });

  it('reads a decimal comma only when told so, and then no point', () => {
    expect(valueOf('-25,732', 'latitude', true)).toBe(-25.732);
    expect(valueOf(`25°43'55,302"S`, 'latitude', true)).toBeCloseTo(south, 13);
    expect(codeOf('-25,732', 'latitude')).toBe('angle-syntax');
    expect(codeOf('-25.732', 'latitude', true)).toBe('angle-syntax');
    expect(codeOf(`25°43'55.302"S`, 'latitude', true)).toBe('angle-syntax');
  });

  it.each([
    ['-25:43:55.302S', 'a sign and a letter'],
    ['-40:26:46S', 'a sign and a letter'],
    ['+25.7 S', 'a sign and a letter'],
    ['S25 43 55 S', 'two letters'],
    ['25 60 00 S', '60 minutes'],
    ['25 43 60 S', '60 seconds'],
    ['25.5 43 55', 'decimals of a degree before minutes'],
    ['25 43.5 55', 'decimals of a minute before seconds'],
    ['25 43 55 E', 'an eastern latitude'],
    ['3-2', 'arithmetic'],
    ['25 -43 55', 'a sign inside'],
    ['25:43:55:10', 'four parts'],
    [`25°43`, 'a missing mark'],
    [`25'43"`, 'minutes before nothing'],
    ['', 'nothing'],
    ['   ', 'blanks'],
    ['-', 'a lone sign'],
    ['S', 'a lone letter'],
    ['25 43 55 South', 'a word'],
    ['0x19', 'hexadecimal'],
    ['NaN', 'NaN'],
    ['1e999', 'too large'],
    ['25::55', 'an empty part'],
  ])('refuses %s: %s', (text) => {
    expect(codeOf(text, 'latitude')).toBe('angle-syntax');
  });

  it.each([
    ['25 43 55+', 'a sign behind'],
    ['25S43 55', 'a letter inside'],
    ['N25 43 55 S', 'two letters'],
    ['25 43 -55', 'a sign before the seconds'],
  ])('refuses %s also where no axis is meant: %s', (text) => {
    expect(codeOf(text, 'any')).toBe('angle-syntax');
  });

  it('reads a plus sign, a space behind a sign, and an exponent', () => {
    expect(valueOf('+25 43 55.302', 'latitude')).toBeCloseTo(-south, 13);
    expect(valueOf('- 25 43 55.302', 'latitude')).toBeCloseTo(south, 13);
    expect(valueOf('2.5e1', 'latitude')).toBe(25);
    expect(valueOf('N 25.7320283', 'latitude')).toBe(25.7320283);
  });

  it.each([
    ['25.5 S 1', 'latitude', false, 'neither decimal degrees nor degrees, minutes and seconds'],
    [`25°43'55.302"S`, 'latitude', true, 'a point although the decimal mark is a comma'],
    ['N25 43 55S', 'latitude', false, 'two hemisphere letters'],
    ['-25 43 55 S', 'latitude', false, 'both a sign and a hemisphere letter'],
    ['25 43 55 E', 'latitude', false, 'E is not a direction of a latitude'],
    ['25 43 55 S', 'longitude', false, 'S is not a direction of a longitude'],
    ['25 43 55 E', 'any', false, 'E is not a direction of this angle'],
    ['25.5 43 55', 'latitude', false, 'only the last part may have decimals'],
    ['25.5 43', 'latitude', false, 'only the last part may have decimals'],
    ['25 43.5 55', 'latitude', false, 'only the last part may have decimals'],
    [`1 ${'9'.repeat(400)}`, 'latitude', false, 'a part is too large'],
    ['25 60 00', 'latitude', false, '60 minutes is not below 60'],
    ['25 43 61.5', 'latitude', false, '61.5 seconds is not below 60'],
  ] as const)('says what is wrong with %s as %s', (text, axis, comma, why) => {
    const problem = parseAngle(text, axis, comma).problems[0];
    expect(problem).toMatchObject({ code: 'angle-syntax', severity: 'error', received: text });
    expect(problem?.message).toContain(`"${text}"`);
    expect(problem?.message).toContain(why);
    expect(problem?.expected).toContain('degrees, minutes, seconds');
    expect(problem?.hint).toContain(`25°43'55.302"S`);
  });

  it('takes each letter only for its own axis', () => {
    expect(codeOf('10 N', 'longitude')).toBe('angle-syntax');
    expect(codeOf('10 W', 'latitude')).toBe('angle-syntax');
    expect(codeOf('10 N', 'any')).toBe('angle-syntax');
    expect(valueOf('10 W', 'longitude')).toBe(-10);
  });

  it('holds latitudes and longitudes to their ranges, ends included', () => {
    for (const text of ['90', '-90', '90 00 00 S']) expect(Math.abs(valueOf(text, 'latitude'))).toBe(90);
    for (const text of ['-180', '360', '180 00 00 W']) expect(Math.abs(valueOf(text, 'longitude')) % 180).toBe(0);
    expect(codeOf('95.2', 'latitude')).toBe('latitude-out-of-range');
    expect(codeOf('90 00 00.001 N', 'latitude')).toBe('latitude-out-of-range');
    expect(codeOf('-180.0001', 'longitude')).toBe('longitude-out-of-range');
    expect(codeOf('190 W', 'longitude')).toBe('longitude-out-of-range');
    expect(valueOf('725.5', 'any')).toBe(725.5);
  });

  it('says what packed degrees, minutes and seconds look like', () => {
    for (const [text, axis] of [
      ['375651', 'latitude'],
      ['-375651.25', 'latitude'],
      ['1442529', 'longitude'],
    ] as const) {
      const outcome = parseAngle(text, axis);
      expect(outcome.ok).toBe(false);
      expect(outcome.problems[0]?.code).toBe(`${axis}-out-of-range`);
      expect(outcome.problems[0]?.hint).toContain('run together');
    }
  });

  it('shows the value and what was expected', () => {
    expect(parseAngle('95.2', 'latitude').problems[0]).toMatchObject({
      severity: 'error',
      message: '95.2 is outside -90..90',
      received: '95.2',
      expected: '-90..90',
    });
    expect(parseAngle(' 400 ', 'longitude').problems[0]).toMatchObject({
      message: '400 is outside -180..360',
      received: ' 400 ',
      expected: '-180..360',
    });
    expect(parseAngle('95.2', 'latitude').problems[0]?.hint).toContain('exchanged');
  });
});

describe('formatDms', () => {
  it('carries instead of printing 60', () => {
    expect(formatDms(25 + 59 / 60 + 59.999999 / 3600, 'latitude', 5)).toBe(`26°00'00.00000"N`);
    expect(formatDms(-(12 + 34 / 60 + 59.9996 / 3600), 'longitude', 3)).toBe(`12°35'00.000"W`);
    expect(formatDms(359.99999999, 'any', 0)).toBe(`360°00'00"`);
    expect(formatDms(12 + 59 / 60 + 59.99999 / 3600, 'any', 4)).toBe(`13°00'00.0000"`);
    expect(formatDms(12 + 59 / 60 + 59.99999 / 3600, 'any', 5)).toBe(`12°59'59.99999"`);
    expect(formatDms(12 + 58 / 60 + 59.99999 / 3600, 'any', 4)).toBe(`12°59'00.0000"`);
  });

  it('prints no sign and the positive letter for what rounds to nothing', () => {
    expect(formatDms(-1e-12, 'any', 3)).toBe(`0°00'00.000"`);
    expect(formatDms(-0, 'latitude', 1)).toBe(`0°00'00.0"N`);
    expect(formatDms(-1e-12, 'longitude', 1)).toBe(`0°00'00.0"E`);
  });

  it('keeps the minus between -1 and 0 degrees', () => {
    expect(formatDms(-0.01, 'any', 2)).toBe(`-0°00'36.00"`);
  });

  it('is undone by parseAngle within half its last place', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.integer({ min: 0, max: 9 }),
        (degrees, decimals) => {
          const text = formatDms(degrees, 'longitude', decimals);
          expect(text).toMatch(/^\d{1,3}°[0-5]\d'[0-5]\d(\.\d+)?"[EW]$/);
          expect(Math.abs(valueOf(text, 'longitude') - degrees)).toBeLessThanOrEqual(
            0.5001 / 3600 / 10 ** decimals + 3e-14,
          );
        },
      ),
      { numRuns: 2000, seed: 1 },
    );
  });

  it('refuses what cannot be printed', () => {
    expect(() => formatDms(NaN, 'any', 2)).toThrow('not finite');
    expect(() => formatDms(1, 'any', 10)).toThrow('out of range');
    expect(() => formatDms(1, 'any', 1.5)).toThrow('out of range');
    expect(() => formatDms(1, 'any', -1)).toThrow('out of range');
  });
});
