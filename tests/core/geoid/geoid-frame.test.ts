import { describe, expect, it } from 'vitest';
import { frameAgreement } from '../../../src/core/geoid/geoid-frame.js';

describe('frameAgreement', () => {
  it('agrees when any code of the positions is the grid’s, whatever its case', () => {
    expect(frameAgreement('EPSG:4941', ['EPSG:4148', 'epsg:4941'])).toBe('agrees');
  });

  it('differs when none is, even between frames that are centimetres apart', () => {
    expect(frameAgreement('EPSG:8998', ['EPSG:4148', 'EPSG:4941'])).toBe('differs');
    expect(frameAgreement('EPSG:8998', [])).toBe('differs');
  });

  it('is unknown when the grid does not say', () => {
    expect(frameAgreement(null, ['EPSG:4326'])).toBe('unknown');
  });
});
