import type { Shift, ShiftFunction } from '../../../core/frames/shifts/shift-definition.js';
import { shiftWorking } from '../working/leg-working.js';
import { shiftCoefficients } from '../../../core/frames/shifts/shift-coefficients.js';
import { createShiftFunction } from '../../../core/frames/shifts/shift-function.js';
import { shiftRotationForm } from '../../../core/frames/shifts/shift-rotation-form.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Step, Way } from '../step.js';
import { backwardsWord } from '../step.js';
import { accuracyText } from '../change/fitting-operations.js';

/** A datum operation on geocentric coordinates, by the name it is recorded under. */
export interface NamedShift {
  readonly shift: Shift;
  /** Registry code of the operation, or of the method where it is none. */
  readonly id: string;
  readonly caution: string | null;
}

/**
 * A datum operation at an epoch, decimal year, or null where it has no rates.
 * Problems: those of the shift, shift-epoch-missing among them.
 */
export function shiftStep({ shift, id, caution }: NamedShift, epochYear: number | null): Outcome<Step> {
  const forward = createShiftFunction(shift, epochYear, 'forward');
  if (!forward.ok) return forward;
  const inverse = createShiftFunction(shift, epochYear, 'inverse');
  if (!inverse.ok) return inverse;
  const form = shiftRotationForm(shift, epochYear);
  if (!form.ok) return form;
  const at = shift.rates === null ? '' : `, at epoch ${String(epochYear)}`;
  const matrix = form.value === 'full' ? ', full rotation matrix' : '';
  const known = shift.code === null ? '' : `${shift.code} `;
  return success({
    forward: geocentricWay(forward.value),
    inverse: geocentricWay(inverse.value),
    working: (direction, before, after) => {
      const found = shiftCoefficients(shift, epochYear, direction);
      return found.ok ? [shiftWorking(found.value, before, after)] : [];
    },
    said: (direction) => [
      `operation ${known}${shift.name}${backwardsWord(direction)}${at}${matrix}: ${accuracyText(shift.accuracyM)}${caution === null ? '' : `; ${caution}`}`,
    ],
    recorded: (direction) => [
      {
        id,
        name: `${shift.name}${backwardsWord(direction)}${at}${matrix}`,
        accuracyM: shift.accuracyM,
        origin: shift.source,
      },
    ],
  });
}

/** From X, Y, Z to X, Y, Z. */
function geocentricWay(run: ShiftFunction): Way {
  return {
    needs: 'geocentric',
    gives: 'geocentric',
    run(point) {
      run(point.xM, point.yM, point.zM, point);
      return null;
    },
  };
}
