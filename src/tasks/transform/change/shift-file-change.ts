import type { Shift, ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import { shiftMethodEntry } from '../../../core/frames/shifts/shift-methods.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Leg, Step } from '../step.js';
import { filedStep } from '../steps/filed-step.js';
import type { FiledMethodUse } from '../steps/filed-step.js';
import { shiftGridStep } from '../steps/shift-grid-step.js';
import type { NamedShiftGrid } from '../steps/shift-grid-step.js';
import { unnamedChange } from './fitting-operations.js';
import { isSameFrame } from './named-side.js';
import type { NamedSide } from './named-side.js';
import { gridPlaceWarning, shiftChange } from './shift-change.js';
import type { ChangeRequest, PlannedChange } from './shift-change.js';

/** What a shift file or a grid of shifts holds. */
export type FiledShift =
  | { readonly kind: 'geocentric'; readonly shift: Shift }
  | ({ readonly kind: 'method' } & FiledMethodUse & StatedEnds)
  | ({ readonly kind: 'grid' } & NamedShiftGrid);

/** The systems a file says it leads between; null: not stated. */
interface StatedEnds {
  readonly from: string | null;
  readonly to: string | null;
}

/**
 * The change of frame by a shift file or a grid of shifts, in the direction that leads from one side to the other.
 * Problems: system-mismatch where the file is for the plane and a side is no grid, or for heights alone and the datums
 * differ; usage-conflict beside a motion in time; those of the shift.
 */
export function shiftFileChange(
  filed: FiledShift,
  direction: ShiftDirection,
  from: NamedSide,
  to: NamedSide,
  request: ChangeRequest,
): Outcome<PlannedChange> {
  if (filed.kind === 'geocentric') {
    const { shift } = filed;
    const id = `EPSG:${String(shiftMethodEntry(shift.method).geocentricCode)}`;
    return shiftChange([{ shift, direction, id, caution: null }], from, to, request);
  }
  if (request.motion !== null) {
    return failure(
      errorProblem('usage-conflict', {
        message: 'coordinates are moved in time with shifts between frames only',
        hint: 'move them in a run of their own, with --epoch-from, --epoch-to and --plate',
      }),
    );
  }
  const leg = (step: Step): Leg => ({ step, direction });
  if (filed.kind === 'grid') return gridChange(filed, direction, from, to);
  const step = leg(filedStep(filed, to.geographic.ellipsoid));
  if (filed.action.on === 'plane') {
    if (from.kind !== 'projected' || to.kind !== 'projected') {
      return failure(
        errorProblem('system-mismatch', {
          message: `${filed.name} leads from grid to grid, and ${from.kind !== 'projected' ? from.label : to.label} is not projected`,
          hint: 'name projected systems with --from and --to',
        }),
      );
    }
    return success({ change: [step], vertical: null, watched: [] });
  }
  return verticalChange(step, from, to);
}

/** A grid leads from its source to its target, in whichever direction it is taken. */
function gridChange(
  filed: NamedShiftGrid,
  direction: ShiftDirection,
  from: NamedSide,
  to: NamedSide,
): Outcome<PlannedChange> {
  const [source, target] = direction === 'forward' ? [from, to] : [to, from];
  const leg = { step: shiftGridStep(filed, source.geographic.ellipsoid, target.geographic.ellipsoid), direction };
  if (filed.grid.kind !== 'vertical') return success({ change: [leg], vertical: null, watched: [] });
  const planned = verticalChange(leg, from, to);
  return planned.ok
    ? success(planned.value, gridPlaceWarning(to, filed.facts.frame, `the offsets of ${filed.name}`))
    : planned;
}

/** What acts on heights alone leads between no two frames. */
function verticalChange(leg: Leg, from: NamedSide, to: NamedSide): Outcome<PlannedChange> {
  return isSameFrame(from, to) ? success({ change: [], vertical: leg, watched: [] }) : failure(unnamedChange(from, to));
}
