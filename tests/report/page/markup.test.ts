import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { escapeText, markup, named } from '../../../src/report/page/markup.js';
import { shortText, visibleText } from '../../../src/report/page/words/visible-text.js';

describe('text from data', () => {
  it('never opens a tag, closes an attribute or begins an entity', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const escaped = escapeText(text);
        expect(/[<>"']/.test(escaped)).toBe(false);
        expect(escaped.replaceAll(/&(?:amp|lt|gt|quot|#39);/g, '').includes('&')).toBe(false);
      }),
    );
  });

  it('is escaped when it is put into markup, and markup is not', () => {
    expect(markup`<p title="${'"><b>'}">${'<i>'}${named('a&b')}${null}</p>`.html).toBe(
      '<p title="&quot;&gt;&lt;b&gt;">&lt;i&gt;<bdi>a&amp;b</bdi></p>',
    );
  });

  it('shows controls of writing direction instead of obeying them', () => {
    expect(visibleText('a\u202Eb\u2066c')).toBe('a[U+202E]b[U+2066]c');
  });

  it('replaces what HTML cannot hold and keeps every script', () => {
    expect(visibleText('\u0000\u0007\uD800\uFFFE')).toBe('\uFFFD\uFFFD\uFFFD\uFFFD');
    expect(visibleText('שלום 你好 👩‍👧 é')).toBe('שלום 你好 👩‍👧 é');
  });

  it('is shortened without leaving half a sign', () => {
    expect(shortText('abcdefgh', 8)).toBe('abcdefgh');
    expect(shortText('abcdefghi', 8)).toBe('abcdefg…');
    expect(shortText('abcdef👩‍👩‍👧', 8)).toBe('abcdef👩…');
  });
});
