import { describe, expect, it } from 'vitest';
import { antennaHeight } from '../../../src/core/observation/antenna-height.js';

describe('antennaHeight', () => {
  it('takes a vertical height as it is', () => {
    const result = antennaHeight({ kind: 'vertical', heightM: 1.6 });
    expect(result).toMatchObject({ ok: true, value: { verticalM: 1.6, kind: 'vertical', slant: null } });
  });

  it('reduces a slant to the vertical: 1.7 m to a 0.8 m rim is exactly 1.5 m, less the offset', () => {
    const result = antennaHeight({ kind: 'slant', slantM: 1.7, radiusM: 0.8, offsetM: 0.04 });
    expect(result.ok && Math.abs(result.value.verticalM - 1.46)).toBeLessThan(1e-12);
  });

  it.each([
    ['a slant as short as the radius', { kind: 'slant', slantM: 0.2, radiusM: 0.2, offsetM: 0 }],
    ['a slant shorter than the radius', { kind: 'slant', slantM: 0.1, radiusM: 0.2, offsetM: 0 }],
    ['a negative radius', { kind: 'slant', slantM: 1.5, radiusM: -0.1, offsetM: 0 }],
    ['an offset above the rim', { kind: 'slant', slantM: 1.5, radiusM: 0.1, offsetM: 1.6 }],
    ['a slant that is not a number', { kind: 'slant', slantM: NaN, radiusM: 0.1, offsetM: 0 }],
    ['a vertical height that is not a number', { kind: 'vertical', heightM: Infinity }],
  ] as const)('refuses %s', (_, height) => {
    const result = antennaHeight(height);
    expect(result.ok).toBe(false);
    expect(result.problems[0]?.code).toBe('config-invalid-value');
  });

  it.each([
    ['a rod without a plate', { kind: 'slant', slantM: 1.5, radiusM: 0, offsetM: 0 }, 1.5],
    // 3, 4 and 5: the rim lies 0.4 m above the mark, and as much above the reference point.
    ['a reference point on the mark', { kind: 'slant', slantM: 0.5, radiusM: 0.3, offsetM: 0.4 }, 0],
    ['a vertical height below the mark', { kind: 'vertical', heightM: -0.1 }, -0.1],
  ] as const)('takes %s', (_, height, verticalM) => {
    const result = antennaHeight(height);
    expect(result.ok && result.value.verticalM).toBeCloseTo(verticalM, 12);
  });

  it('says that a height is missing', () => {
    const result = antennaHeight(null);
    expect(result.problems[0]).toMatchObject({ code: 'config-missing', severity: 'error' });
  });
});
