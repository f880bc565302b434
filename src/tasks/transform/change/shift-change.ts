import type { ShiftArea, ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import { sameOperationFrame } from '../../../core/frames/operations/operations.js';
import type { VelocityGrid } from '../../../core/frames/plates/velocity-grid.js';
import type { PlateModelKey } from '../../../core/frames/plates/plate-models.js';
import type { Motion, MotionBy } from '../../../core/frames/plates/point-motion.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { forwards } from '../step.js';
import type { Leg } from '../step.js';
import { keptHeightStep } from '../steps/kept-height-step.js';
import { motionStep } from '../steps/motion-step.js';
import { shiftStep } from '../steps/shift-step.js';
import type { NamedShift } from '../steps/shift-step.js';
import type { TransformSide } from '../transform-plan.js';
import { frameNameOf } from './named-side.js';
import type { NamedSide } from './named-side.js';

/** What is asked of the change of frame. */
export interface ChangeRequest {
  /** Codes of the operations, in the order they are applied. */
  readonly operations: readonly string[];
  readonly acceptsDefault: boolean;
  readonly inverse: boolean;
  /** Epoch of the coordinates when a shift is applied, decimal year. */
  readonly epochYear: number | null;
  /** Carries coordinates from one epoch to another before the shift; null: not asked for. */
  readonly motion: Motion | null;
  /** What a chain to a national frame moves by; null: the plate that its table names. */
  readonly chainBy: MotionBy | null;
  /** The model of that plate; null: that of ITRF2020. */
  readonly chainModel: PlateModelKey | null;
}

/** A datum operation in a direction. */
export interface DirectedShift extends NamedShift {
  readonly direction: ShiftDirection;
}

/** An operation's name and the area it was published for. */
export interface WatchedOperation {
  readonly name: string;
  readonly area: ShiftArea;
}

/** The steps from the frame of the source to that of the target. */
export interface PlannedChange {
  readonly change: readonly Leg[];
  /** What is added to orthometric heights at the target; null: nothing. */
  readonly vertical: Leg | null;
  readonly watched: readonly WatchedOperation[];
}

/**
 * Any number of shifts one after the other, at one epoch, after the motion in time if there is one. Heights stay where a
 * frame between has none, unless both ends are geocentric and hold no other height than their own.
 * Problems: those of the shifts (shift-epoch-missing among them).
 */
export function shiftChange(
  shifts: readonly DirectedShift[],
  from: TransformSide,
  to: TransformSide,
  { motion, epochYear }: Pick<ChangeRequest, 'motion' | 'epochYear'>,
): Outcome<PlannedChange> {
  const legs: Leg[] = motion === null ? [] : [forwards(motionStep(motion))];
  for (const named of shifts) {
    const step = shiftStep(named, epochYear);
    if (!step.ok) return step;
    legs.push({ step: step.value, direction: named.direction });
  }
  const watched = shifts.flatMap(({ shift: { area, code, name } }) =>
    area === null ? [] : [{ name: code ?? name, area }],
  );
  const kept = shifts.filter(({ shift }) => shift.heights === 'kept');
  if (kept.length === 0 || (from.kind === 'geocentric' && to.kind === 'geocentric'))
    return success({ change: legs, vertical: null, watched });
  const solved = kept.some(({ direction }) => direction === 'inverse') ? 'forward' : 'inverse';
  const whole = keptHeightStep(legs, from.geographic.ellipsoid, to.geographic.ellipsoid, solved);
  return success({ change: [forwards(whole)], vertical: null, watched });
}

/** A warning where coordinates of a frame fixed to its plate are to be moved along it. */
export function motionWarning(from: NamedSide, motion: Motion | null): readonly Problem[] {
  if (motion?.by.kind === 'grid') return gridFrameWarning(from, motion.by.grid);
  if (motion?.by.kind !== 'plate') return [];
  const frame = frameNameOf(from);
  if (frame === null ? from.geographic.code === null : frame.startsWith('ITRF') || frame === 'WGS 84') return [];
  return [
    warningProblem('system-mismatch', {
      message: `plate motion is reckoned in ${motion.by.pole.frame}, and ${from.geographic.name} may be fixed to its plate`,
      hint: 'coordinates of a datum that moves with its plate do not change with time: move them in the satellite frame, before or after the shift',
    }),
  ];
}

/** A warning where velocities are given in another frame than the coordinates. */
export function gridFrameWarning(from: NamedSide, grid: VelocityGrid): readonly Problem[] {
  return otherFrame(
    from,
    grid.frame,
    `the velocities of ${grid.name}`,
    'velocities of one frame are none in another: move the points in the frame of the grid, before or after the shift',
  );
}

/** A warning where the nodes of a grid stand at places of another frame than the points. */
export function gridPlaceWarning(from: NamedSide, frame: string | null, words: string): readonly Problem[] {
  return otherFrame(
    from,
    frame,
    words,
    'the grid is read at the place as it stands: where the frames lie apart, transform the points first',
  );
}

function otherFrame({ geographic }: NamedSide, frame: string | null, words: string, hint: string): readonly Problem[] {
  const { code, name } = geographic;
  if (frame === null || code === null || frame === code || sameOperationFrame(frame, code)) return [];
  const message = `${words} are given in ${frame}, and the points are in ${name}`;
  return [warningProblem('system-mismatch', { message, received: frame, expected: code, hint })];
}
