import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byteLines } from '../../../src/io/text/byte-lines.js';

const told = (text: string) =>
  [...byteLines(Buffer.from(text, 'utf8'))].map((line) =>
    line.ok ? [line.value.number, line.value.text] : line.problems.map(({ code, where }) => [code, where?.line]),
  );

describe('byteLines', () => {
  it('gives the lines that splitting gives, with their numbers, but for those of blanks', () => {
    const piece = fc.constantFrom('\n', '\r\n', '\r', ' ', '\t', 'a', '\u00e9', '\u{1f30d}', ' 1.5 -2 ');
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 30 }), (pieces) => {
        const text = pieces.join('');
        const split = text.split(/\r\n|\n|\r/u).map((line, index) => [index + 1, line] as const);
        expect(told(text)).toEqual(split.filter(([, line]) => /[^ \t]/u.test(line)));
      }),
    );
  });

  it('leaves out a byte order mark', () => {
    expect(told('\uFEFFa\nb')).toEqual([
      [1, 'a'],
      [2, 'b'],
    ]);
  });

  it('refuses a line of more than a mebibyte, by its number, and ends there', () => {
    expect(told(`a\n\n${'x'.repeat((1 << 20) + 1)}\nb`)).toEqual([[1, 'a'], [['grid-unreadable', 3]]]);
    expect(told(`${'x'.repeat(1 << 20)}\nb`)).toHaveLength(2);
  });
});
