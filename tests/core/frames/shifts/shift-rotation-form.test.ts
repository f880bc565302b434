import { describe, expect, it } from 'vitest';
import { operationByCode } from '../../../../src/core/frames/operations/operations.js';
import { NO_SHIFT_PARAMETERS } from '../../../../src/core/frames/shifts/shift-definition.js';
import { rotationFormOf, shiftRotationForm } from '../../../../src/core/frames/shifts/shift-rotation-form.js';
import { valueOf } from '../../../support/shift-of-row.js';

describe('the form of a rotation', () => {
  it('is none without rotations, and full above two seconds of arc', () => {
    expect(rotationFormOf(NO_SHIFT_PARAMETERS, 'full')).toBe('none');
    expect(rotationFormOf({ ...NO_SHIFT_PARAMETERS, ryArcsec: -2 }, 'automatic')).toBe('small-angle');
    expect(rotationFormOf({ ...NO_SHIFT_PARAMETERS, ryArcsec: -2.1 }, 'automatic')).toBe('full');
    expect(rotationFormOf({ ...NO_SHIFT_PARAMETERS, ryArcsec: -2.1 }, 'small-angle')).toBe('small-angle');
  });

  it('of a shift that changes with time is refused without an epoch', () => {
    const { shift } = valueOf(operationByCode('EPSG:8049'));
    expect(shiftRotationForm(shift, null).problems[0]?.code).toBe('shift-epoch-missing');
    expect(valueOf(shiftRotationForm(shift, 2026.5))).toBe('small-angle');
    expect(valueOf(shiftRotationForm(valueOf(operationByCode('EPSG:1504')).shift, null))).toBe('none');
  });
});
