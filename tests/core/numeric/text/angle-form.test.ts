import { describe, expect, it } from 'vitest';
import { angleReader } from '../../../../src/core/numeric/text/angle-form.js';

// The latitude of GDA2020-TM's worked example style: 25°43'55.302"S = −(25 + 43/60 + 55.302/3600). Identity.
const SOUTH = -(25 + 43 / 60 + 55.302 / 3600);

describe('an angle in one writing', () => {
  it.each([
    ['deg', '-25.732028333333', false],
    ['deg', '25°43\'55.302"S', false],
    ['dms', '25 43 55.302 S', false],
    ['dms', '-25:43:55,302', true],
    ['DDMMSS', '254355.302S', false],
    ['DDMMSS', '-254355,302', true],
    ['DDMM', 'S2543.92170', false],
    ['D.MMSS', '-25.4355302', false],
    ['gon', '-28.591142592592', false],
    ['rad', '-0.449108617', false],
  ] as const)('%s reads %s', (writing, text, comma) => {
    // A rad of nine digits is 0.03″.
    expect(angleReader(writing, 'latitude', comma)(text)).toBeCloseTo(SOUTH, writing === 'rad' ? 6 : 10);
  });

  it.each([
    ['dms', '25.5'],
    ['DDMMSS', '256055.302'],
    ['DDMMSS', '25.732'],
    ['DDMM', '2560.1'],
    ['D.MMSS', '25.6055'],
    ['D.MMSS', '25.4360'],
    ['D.MMSS', '25.43'],
    ['DDMMSS', '-254355S'],
    ['DDMMSS', '254355E'],
    ['gon', '12°'],
  ] as const)('%s refuses %s', (writing, text) => {
    expect(angleReader(writing, 'latitude', false)(text)).toBeNull();
  });

  it('leaves the range to who asks', () => {
    expect(angleReader('deg', 'latitude', false)('95.5')).toBe(95.5);
    expect(angleReader('deg', 'latitude', false)('95 30 0 N')).toBe(95.5);
  });
});
