import { describe, expect, it } from 'vitest';
import { ownEntry } from '../../../src/core/numeric/own-entry.js';

describe('ownEntry', () => {
  const table = { alpha: 1, beta: 0 };

  it('gives the entry of a known name, also one that counts as false', () => {
    expect(ownEntry(table, 'alpha')).toBe(1);
    expect(ownEntry(table, 'beta')).toBe(0);
  });

  it.each(['gamma', '', 'constructor', '__proto__', 'toString', 'hasOwnProperty'])('has no entry for %j', (name) => {
    expect(ownEntry(table, name)).toBeUndefined();
  });
});
