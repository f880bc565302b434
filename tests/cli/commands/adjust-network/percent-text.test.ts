import { describe, expect, it } from 'vitest';
import { percentText } from '../../../../src/cli/commands/adjust-network/say/percent-text.js';

describe('a level as percent', () => {
  it.each([
    [0.000837, '0.0837 %'],
    [0.01, '1.0000 %'],
    [0.000005, '0.00050 %'],
    [1.0049e-7, '0.000010 %'],
    [9.4e-9, '0.00000094 %'],
    [0, '0.0000 %'],
  ])('%d is %s', (share, text) => {
    expect(percentText(share)).toBe(text);
  });
});
