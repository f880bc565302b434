import { describe, expect, it } from 'vitest';
import { INPUT_OPTIONS } from '../../../src/cli/shell/shared-options.js';
import { createTextDecoder } from '../../../src/io/text/text-decoder.js';
import { TEXT_ENCODINGS } from '../../../src/io/text/text-encoding.js';

/** The letters A and é by the published code tables: RFC 3629, RFC 2781, ISO 8859-1, code page 1252. */
const LETTERS: Readonly<Record<string, readonly number[]>> = {
  'utf-8': [0x41, 0xc3, 0xa9],
  'utf-16le': [0x41, 0, 0xe9, 0],
  'utf-16be': [0, 0x41, 0, 0xe9],
  'windows-1252': [0x41, 0xe9],
  'iso-8859-1': [0x41, 0xe9],
};

describe('the option --encoding', () => {
  const encoding = INPUT_OPTIONS.find(({ flags }) => flags.startsWith('--encoding'));

  it('offers what its line of help names, and no other', () => {
    expect(encoding?.description.split(/, | or /u)).toEqual(encoding?.choices);
  });

  it('reads text in each of its encodings', () => {
    expect(encoding?.choices).toEqual(Object.keys(LETTERS));
    for (const name of TEXT_ENCODINGS) {
      const decoded = createTextDecoder(name).push(Buffer.from(LETTERS[name] ?? []));
      expect(decoded.ok ? decoded.bytes.toString() : '', name).toBe('Aé');
    }
  });
});
