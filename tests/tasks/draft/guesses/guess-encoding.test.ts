import { describe, expect, it } from 'vitest';
import { guessEncoding } from '../../../../src/tasks/draft/guesses/guess-encoding.js';

const utf16 = (text: string, isLittle: boolean): Uint8Array => {
  const bytes = new Uint8Array(2 * text.length);
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < text.length; i += 1) view.setUint16(2 * i, text.charCodeAt(i), isLittle);
  return bytes;
};
const bytesOf = (...bytes: readonly number[]): Uint8Array => Uint8Array.from(bytes);
const TEXT = 'point,north,east\r\nA1\t,1,2\n';

describe('guessEncoding', () => {
  // The byte order marks of Unicode: EF BB BF, FF FE, FE FF.
  it.each([
    ['utf-8', bytesOf(0xef, 0xbb, 0xbf, 0x41)],
    ['utf-16le', bytesOf(0xff, 0xfe, 0x41, 0)],
    ['utf-16be', bytesOf(0xfe, 0xff, 0, 0x41)],
  ])('knows %s by its mark, and needs no other reason', (encoding, bytes) => {
    expect(guessEncoding(bytes)).toEqual({ encoding, why: '' });
  });

  it.each([
    ['the first byte of a mark alone', bytesOf(0xef, 0xbb, 0x41)],
    ['the mark of UTF-8 without its end', bytesOf(0xef, 0x41, 0xbf)],
    ['half of a mark of UTF-16', bytesOf(0xff, 0x41)],
    ['the other half', bytesOf(0x41, 0xfe)],
    ['the same of the other order', bytesOf(0xfe, 0x41)],
    ['and its other half', bytesOf(0x41, 0xff)],
  ])('takes bytes that are no mark and no UTF-8 for windows-1252: %s', (_, bytes) => {
    expect(guessEncoding(bytes)?.encoding).toBe('windows-1252');
  });

  it('knows UTF-16 without a mark by the zeros of its Latin letters', () => {
    expect(guessEncoding(utf16(TEXT, true))).toEqual({ encoding: 'utf-16le', why: 'every second byte is zero' });
    expect(guessEncoding(utf16(TEXT, false))).toEqual({
      encoding: 'utf-16be',
      why: 'every first byte of two is zero',
    });
  });

  it('needs zeros in more than six letters of ten', () => {
    // Four of ten are Greek, whose letters have no zero byte; then three.
    expect(guessEncoding(utf16('abcdefαβγδ', true))).toBeNull();
    expect(guessEncoding(utf16('abcdefgβγδ', true))?.encoding).toBe('utf-16le');
    expect(guessEncoding(utf16('abcdefαβγδ', false))).toBeNull();
    expect(guessEncoding(utf16('abcdefgβγδ', false))?.encoding).toBe('utf-16be');
  });

  it('takes zeros on both sides, and control characters, for no text', () => {
    expect(guessEncoding(bytesOf(0x41, 0, 0x41, 0, 0x41, 0, 0, 0x41))).toBeNull();
    expect(guessEncoding(bytesOf(0, 0x41, 0, 0x41, 0, 0x41, 0x41, 0))).toBeNull();
    expect(guessEncoding(bytesOf(0x41, 0x01, 0x42))).toBeNull();
    expect(guessEncoding(bytesOf(0x41, 0x1f, 0x42))).toBeNull();
    expect(guessEncoding(bytesOf(0x41, 0x20, 0x09, 0x0a, 0x0d, 0x7f))).toEqual({ encoding: 'utf-8', why: '' });
  });

  it('takes what is UTF-8 for it, and other high bytes for windows-1252, counted', () => {
    expect(guessEncoding(new TextEncoder().encode('Großer Stein, Šumava'))).toEqual({ encoding: 'utf-8', why: '' });
    expect(guessEncoding(bytesOf(0x41, 0x80, 0x42, 0xe4))).toEqual({
      encoding: 'windows-1252',
      why: '2 bytes are not UTF-8; names with accents show whether this is right',
    });
    expect(guessEncoding(bytesOf())).toEqual({ encoding: 'utf-8', why: '' });
  });
});

describe('a mark of UTF-8', () => {
  it('says so whatever stands behind it, and only where it is whole', () => {
    // A control character, which text without a mark is not.
    expect(guessEncoding(bytesOf(0xef, 0xbb, 0xbf, 0x01))).toEqual({ encoding: 'utf-8', why: '' });
    expect(guessEncoding(bytesOf(0xee, 0xbb, 0xbf, 0x01))).toBeNull();
    expect(guessEncoding(bytesOf(0xef, 0xba, 0xbf, 0x01))).toBeNull();
    expect(guessEncoding(bytesOf(0xef, 0xbb, 0xbe, 0x01))).toBeNull();
  });

  it('is not needed where a third of the letters have no zero byte; the control character DEL is none of windows-1252', () => {
    const text = `${'a'.repeat(63)}${'α'.repeat(37)}`;
    expect(guessEncoding(utf16(text, true))?.encoding).toBe('utf-16le');
    expect(guessEncoding(bytesOf(0x41, 0x7f, 0xe4))?.why).toContain('1 bytes are not UTF-8');
  });
});
