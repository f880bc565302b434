import { describe, expect, it } from 'vitest';
import { readSession } from '../../src/io/settings/session-read.js';
import { codes, value } from './support.js';

const session = (known: string): string => `version = 1
[[base]]
id = "B"
broadcast = { x_m = 1, y_m = 2, z_m = 3, at = "arp", frame = "national" }
known = { ${known} }
`;

describe('the frame of a base coordinate', () => {
  it('is what the session says, and absent where it says nothing', () => {
    const [base] = value(
      readSession(session('x_m = 1, y_m = 2, z_m = 3, at = "arp", frame = "fixes"'), 's.toml'),
    ).bases;
    expect(base?.known?.frame).toBe('fixes');
    expect(base?.broadcast.frame).toBe('national');
    const [silent] = value(readSession(session('x_m = 1, y_m = 2, z_m = 3, at = "arp"'), 's.toml')).bases;
    expect(silent?.known).not.toHaveProperty('frame');
  });

  it('cannot be that of the fixes for grid values, and is one of two words', () => {
    expect(
      codes(
        readSession(
          session('westing_m = 1, southing_m = 2, ellipsoidal_height_m = 3, at = "arp", frame = "fixes"'),
          's.toml',
        ),
      ),
    ).toEqual(['config-invalid-value']);
    expect(codes(readSession(session('x_m = 1, y_m = 2, z_m = 3, at = "arp", frame = "orbit"'), 's.toml'))).toEqual([
      'config-invalid-value',
    ]);
  });
});
