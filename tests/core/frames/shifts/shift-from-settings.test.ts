import { describe, expect, it } from 'vitest';
import { shiftFromSettings } from '../../../../src/core/frames/shifts/shift-from-settings.js';
import type { ShiftSettings } from '../../../../src/core/frames/shifts/shift-from-settings.js';
import { valueOf } from '../../../support/shift-of-row.js';

const codesOf = (settings: ShiftSettings): readonly string[] =>
  shiftFromSettings(settings).problems.map((problem) => problem.code);
const rotations = { rxArcsec: 0.15, ryArcsec: 0.247, rzArcsec: 0.842 };

describe('a shift file', () => {
  it('names its method as the registry does, with or without the domain, or by code', () => {
    const methodOf = (method: string, rotationConvention: ShiftSettings['rotationConvention']): string =>
      valueOf(
        shiftFromSettings({
          method,
          rotationConvention: rotationConvention ?? null,
          parameters: {},
          pivot: /badekas|1034/i.test(method) ? { xM: 1, yM: 2, zM: 3 } : null,
          referenceEpochYear: /time|1053/i.test(method) ? 2010 : null,
        }),
      ).method;
    expect(methodOf('Geocentric translations (geog2D domain)', null)).toBe('geocentric-translation');
    expect(methodOf('geocentric translation', null)).toBe('geocentric-translation');
    expect(methodOf('Position Vector transformation (geocentric domain)', 'position-vector')).toBe('position-vector');
    expect(methodOf('position-vector', 'position-vector')).toBe('position-vector');
    expect(methodOf('Coordinate Frame rotation (geog3D domain)', 'coordinate-frame')).toBe('coordinate-frame');
    expect(methodOf('Time-dependent Position Vector tfm (geocentric)', 'position-vector')).toBe(
      'time-dependent-position-vector',
    );
    expect(methodOf('Time-dependent Coordinate Frame rotation (geocen)', 'coordinate-frame')).toBe(
      'time-dependent-coordinate-frame',
    );
    expect(methodOf('Molodensky-Badekas (CF geocentric domain)', 'coordinate-frame')).toBe(
      'molodensky-badekas-coordinate-frame',
    );
    expect(methodOf('Molodensky-Badekas', 'position-vector')).toBe('molodensky-badekas-position-vector');
    expect(methodOf('helmert', 'position-vector')).toBe('position-vector');
    expect(methodOf('EPSG:1053', 'position-vector')).toBe('time-dependent-position-vector');
    expect(methodOf('epsg:9607', 'coordinate-frame')).toBe('coordinate-frame');
  });

  it('carries its numbers over, with 0 for what it does not say', () => {
    const shift = valueOf(
      shiftFromSettings({
        method: 'time-dependent position vector',
        rotationConvention: 'position-vector',
        referenceEpochYear: 2010,
        parameters: { txM: 0.1, rzArcsec: 0.002 },
        rates: { dsPpmPerYear: 0.0001 },
        source: 'an invented bulletin',
        accuracyM: 0.02,
      }),
    );
    expect(shift.parameters).toEqual({ txM: 0.1, tyM: 0, tzM: 0, rxArcsec: 0, ryArcsec: 0, rzArcsec: 0.002, dsPpm: 0 });
    expect(shift.rates?.dsPpmPerYear).toBe(0.0001);
    expect(shift.rates?.txMPerYear).toBe(0);
    expect([shift.referenceEpochYear, shift.accuracyM, shift.source, shift.rotationMatrix, shift.heights]).toEqual([
      2010,
      0.02,
      'an invented bulletin',
      'automatic',
      'transformed',
    ]);
  });

  it('must state its rotation convention when it has rotations, even when the method name says it', () => {
    expect(codesOf({ method: 'position vector transformation', parameters: rotations })).toEqual([
      'shift-convention-missing',
    ]);
    expect(codesOf({ method: 'geocentric translations', parameters: rotations })).toEqual(['shift-convention-missing']);
    expect(codesOf({ method: 'molodensky-badekas', parameters: {}, pivot: { xM: 1, yM: 2, zM: 3 } })).toEqual([
      'shift-convention-missing',
    ]);
  });

  it('may not contradict itself', () => {
    expect(
      codesOf({
        method: 'position vector transformation',
        rotationConvention: 'coordinate-frame',
        parameters: rotations,
      }),
    ).toEqual(['config-invalid-value']);
    expect(
      codesOf({ method: 'geocentric translations', rotationConvention: 'position-vector', parameters: rotations }),
    ).toEqual(['config-invalid-value']);
    expect(
      codesOf({
        method: 'helmert',
        rotationConvention: 'position-vector',
        parameters: {},
        rates: { txMPerYear: 0.01 },
      }),
    ).toEqual(['config-invalid-value']);
    expect(
      codesOf({ method: 'helmert', rotationConvention: 'position-vector', parameters: {}, referenceEpochYear: 2010 }),
    ).toEqual(['config-invalid-value']);
    expect(
      codesOf({
        method: 'helmert',
        rotationConvention: 'position-vector',
        parameters: {},
        pivot: { xM: 1, yM: 2, zM: 3 },
      }),
    ).toEqual(['config-invalid-value']);
  });

  it('must be whole', () => {
    expect(
      codesOf({ method: 'time-dependent helmert', rotationConvention: 'position-vector', parameters: {} }),
    ).toEqual(['config-missing']);
    expect(codesOf({ method: 'molodensky-badekas', rotationConvention: 'position-vector', parameters: {} })).toEqual([
      'config-missing',
    ]);
  });

  it('must use the units of its keys: a turn above a degree and a scale written out in full are refused', () => {
    expect(
      codesOf({ method: 'helmert', rotationConvention: 'position-vector', parameters: { rxArcsec: 4000 } }),
    ).toEqual(['config-invalid-value']);
    expect(
      codesOf({ method: 'helmert', rotationConvention: 'position-vector', parameters: { dsPpm: 999_979.5 } }),
    ).toEqual(['config-invalid-value']);
    expect(codesOf({ method: 'helmert', rotationConvention: 'position-vector', parameters: { txM: NaN } })).toEqual([
      'config-invalid-value',
    ]);
  });

  it('with a mistyped method is answered with the nearest one', () => {
    const problem = shiftFromSettings({ method: 'geocentric tranlsations', parameters: {} }).problems[0];
    expect(problem?.code).toBe('config-invalid-value');
    expect(problem?.hint).toContain('geocentric translations');
    expect(codesOf({ method: 'EPSG:9807', parameters: {} })).toEqual(['config-invalid-value']);
  });

  it('takes either turn about a point by its name with the convention it says, and no other', () => {
    const pivot = { xM: 1, yM: 2, zM: 3 };
    for (const [short, convention, other] of [
      ['PV', 'position-vector', 'coordinate-frame'],
      ['CF', 'coordinate-frame', 'position-vector'],
    ] as const) {
      const settings = { method: `Molodensky-Badekas (${short} geocentric domain)`, parameters: rotations, pivot };
      expect(valueOf(shiftFromSettings({ ...settings, rotationConvention: convention })).method).toBe(
        `molodensky-badekas-${convention}`,
      );
      expect(shiftFromSettings({ ...settings, rotationConvention: other }).problems[0]).toMatchObject({
        code: 'config-invalid-value',
        expected: convention,
      });
    }
  });

  it('refuses an evaluation point that is not finite', () => {
    for (const yM of [Number.NaN, Infinity]) {
      expect(
        codesOf({
          method: 'Molodensky-Badekas',
          rotationConvention: 'position-vector',
          parameters: rotations,
          pivot: { xM: 1, yM, zM: 3 },
        }),
      ).toEqual(['config-invalid-value']);
    }
  });

  it('refuses a reference epoch where nothing changes with time, and needs one where it does', () => {
    expect(codesOf({ method: 'geocentric translation', parameters: { txM: 1 }, referenceEpochYear: 2010 })).toEqual([
      'config-invalid-value',
    ]);
    expect(
      codesOf({
        method: 'EPSG:1053',
        rotationConvention: 'position-vector',
        parameters: rotations,
        referenceEpochYear: null,
      }),
    ).toEqual(['config-missing']);
    expect(
      valueOf(
        shiftFromSettings({
          method: 'EPSG:1053',
          rotationConvention: 'position-vector',
          parameters: rotations,
          referenceEpochYear: 2010,
        }),
      ).referenceEpochYear,
    ).toBe(2010);
    expect(
      valueOf(shiftFromSettings({ method: 'geocentric translation', parameters: { txM: 1 } })).referenceEpochYear,
    ).toBeNull();
  });
});
