import { describe, expect, it } from 'vitest';
import { tiffClaimsFault } from '../../../../src/io/grids/tiff/tiff-claims.js';
import { HOSTILE } from '../../../../tools/fuzz/structured-grids.mjs';
import { tiffBytes } from '../../../support/tiff-bytes.js';

// Each claim by its own words: a file that another check refuses too does not show that this one is there.
const CLAIMS: readonly (readonly [string, RegExp])[] = [
  ['samples a pixel: 2^32', /samples/u],
  ['metadata of 600 kB', /metadata of the TIFF are \d+ bytes, more than 65536/u],
  ['metadata of 600 kB, never closed', /metadata of the TIFF are \d+ bytes, more than 65536/u],
  ['planar samples that share a block', /samples/u],
  ['thousands of tags, each an array at 0', /has 40\d\d tags, more than 256/u],
  ['directories in a circle', /list of images of the TIFF does not end/u],
  ['geographic text at the end of everything', /tag 34737 of the TIFF lies beyond/u],
];

describe('tiffClaimsFault', () => {
  it.each(CLAIMS)('%s: is said before a decoder takes memory', (name, words) => {
    const file = HOSTILE[name]?.() ?? Buffer.alloc(0);
    expect(tiffClaimsFault(file)?.message ?? 'nothing').toMatch(words);
  });

  it('has nothing to say of a grid', () => {
    expect(
      tiffClaimsFault(tiffBytes([{ width: 4, height: 4, samples: [Array.from({ length: 16 }, (_, index) => index)] }])),
    ).toBeNull();
  });
});
