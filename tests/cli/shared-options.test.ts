import { describe, expect, it } from 'vitest';
import { INPUT_OPTIONS } from '../../src/cli/shared-options.js';
import { TEXT_ENCODINGS } from '../../src/io/text-encoding.js';

describe('the option --encoding', () => {
  it('takes every encoding that can be read, and no other', () => {
    const encoding = INPUT_OPTIONS.find(({ flags }) => flags.startsWith('--encoding'));
    expect(encoding?.choices).toEqual(TEXT_ENCODINGS);
  });
});
