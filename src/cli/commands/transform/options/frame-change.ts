import { createShiftFunction } from '../../../../core/frames/shifts/shift-function.js';
import { defaultShift } from '../../../../core/frames/shifts/default-shift.js';
import { operationByCode, sameOperationFrame } from '../../../../core/frames/operations/operations.js';
import { operationFrameOf } from '../../../../core/frames/operations/operation-frames.js';
import { shiftMethodEntry } from '../../../../core/frames/shifts/shift-methods.js';
import { shiftRotationForm } from '../../../../core/frames/shifts/shift-rotation-form.js';
import type { Shift, ShiftDirection, ShiftFunction } from '../../../../core/frames/shifts/shift-definition.js';
import { systemsAgree } from '../../../../core/grid/systems/systems-agree.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { MethodRef } from '../../../../records/provenance.js';
import type { FrameChange } from '../../../../tasks/transform/transform-setup.js';
import type { WatchedOperation } from '../../../../tasks/transform/transform-warning.js';
import type { ChangeOptions } from './change-options.js';
import { accuracyText, unnamedChange } from './fitting-operations.js';
import type { LoadedSide } from './transform-side.js';

/** A change of frame ready to run, and everything that is said and recorded of it. */
export interface ResolvedChange {
  readonly change: FrameChange;
  readonly methods: readonly MethodRef[];
  /** Lines for people. */
  readonly said: readonly string[];
  readonly watched: readonly WatchedOperation[];
  /** What a vertical method adds to orthometric heights; null: nothing. */
  readonly verticalM: ((latitudeDeg: number, longitudeDeg: number) => number) | null;
}

/** One shift of a chain. */
interface Step {
  readonly shift: Shift;
  readonly direction: ShiftDirection;
  /** Registry code of the operation, or of the method where it is none. */
  readonly id: string;
  readonly caution: string | null;
}

/** Whether the two sides are one frame, so that no operation stands between them. */
export function isSameFrame(from: LoadedSide, to: LoadedSide): boolean {
  const [a, b] = [from.geographic, to.geographic];
  return systemsAgree(a, b) || (a.code !== null && b.code !== null && sameOperationFrame(a.code, b.code));
}

/**
 * The change of frame by --operation, --accept-default-shift or nothing; a --shift file is resolved in `shiftFileChange`.
 * Problems: operation-not-named with the list of what fits; operation-unknown; system-mismatch where an operation does
 * not lead from one system to the other; usage-conflict; those of the shifts (shift-epoch-missing among them).
 */
export function frameChange(from: LoadedSide, to: LoadedSide, options: ChangeOptions): Outcome<ResolvedChange> {
  const same = isSameFrame(from, to);
  if (options.operations.length > 0) {
    if (same)
      return failure(
        errorProblem('usage-conflict', {
          message: `${from.label} and ${to.label} are one datum: no operation stands between them`,
          hint: 'leave out --operation',
        }),
      );
    const steps = operationSteps(from, to, options);
    return steps.ok ? changeOfSteps(steps.value, options) : steps;
  }
  if (same) return changeOfSteps([], options);
  if (!options.acceptsDefault) return failure(unnamedChange(from, to));
  const steps = defaultSteps(from, to);
  return steps === null ? failure(unnamedChange(from, to)) : changeOfSteps(steps, options);
}

function operationSteps(from: LoadedSide, to: LoadedSide, options: ChangeOptions): Outcome<readonly Step[]> {
  const target = to.geographic.code === null ? null : operationFrameOf(to.geographic.code);
  let at = from.geographic.code === null ? null : operationFrameOf(from.geographic.code);
  const steps: Step[] = [];
  for (const code of options.operations) {
    const found = operationByCode(code);
    if (!found.ok) return found;
    const operation = found.value;
    const direction: ShiftDirection | null =
      at === operation.from ? 'forward' : at === operation.to && operation.reversible ? 'inverse' : null;
    if (direction === null) return failure(notJoining(operation.code, operation.name, from, to));
    steps.push({ shift: operation.shift, direction, id: operation.code, caution: operation.caution });
    at = direction === 'forward' ? operation.to : operation.from;
  }
  if (at === null || at !== target)
    return failure(
      notJoining(options.operations.join(','), steps.map(({ shift }) => shift.name).join(', then '), from, to),
    );
  if (options.inverse && steps.some(({ direction }) => direction === 'forward')) {
    return failure(
      errorProblem('usage-conflict', {
        message: `--inverse would apply ${options.operations.join(',')} against the direction from ${from.geographic.name} to ${to.geographic.name}`,
        hint: 'leave it out: the direction of an operation follows from --from and --to',
      }),
    );
  }
  return success(steps);
}

function notJoining(code: string, name: string, from: LoadedSide, to: LoadedSide): Problem {
  const { hint } = unnamedChange(from, to);
  return errorProblem('system-mismatch', {
    message: `${code} (${name}) does not lead from ${from.geographic.name} to ${to.geographic.name}`,
    received: code,
    ...(hint !== undefined && { hint }),
  });
}

/** Source to WGS 84 and on to the target, each by what its definition carries; null where one carries nothing. */
function defaultSteps(from: LoadedSide, to: LoadedSide): readonly Step[] | null {
  const steps: Step[] = [];
  for (const [side, direction] of [
    [from, 'forward'],
    [to, 'inverse'],
  ] as const) {
    if (side.toWgs84 === null) return null;
    if (side.toWgs84.length === 0) continue;
    const shift = defaultShift(side.geographic.name, side.toWgs84);
    if (shift === null) return null;
    steps.push({
      shift,
      direction,
      id: `EPSG:${String(shiftMethodEntry(shift.method).geocentricCode)}`,
      caution: 'the accuracy of a shift carried by a definition is not stated',
    });
  }
  return steps;
}

/** Any number of shifts one after the other, at one epoch, after the motion in time if there is one. */
export function changeOfSteps(steps: readonly Step[], options: ChangeOptions): Outcome<ResolvedChange> {
  const runs: ShiftFunction[] = [];
  const methods: MethodRef[] = [];
  const said: string[] = [];
  const { motion, epochYear } = options;
  if (motion !== null) {
    runs.push(motion.run);
    const name =
      motion.by.kind === 'plate' ? `${motion.by.pole.model}, ${motion.by.pole.name} plate` : 'velocity given';
    methods.push({
      id: motion.by.kind === 'plate' ? `plate:${motion.by.pole.code}` : 'velocity',
      name: `${name}, ${String(motion.fromYear)} to ${String(motion.toYear)}`,
    });
    said.push(`moved from epoch ${String(motion.fromYear)} to ${String(motion.toYear)}: ${name}`);
  }
  for (const { shift, direction, id, caution } of steps) {
    const run = createShiftFunction(shift, epochYear, direction);
    if (!run.ok) return run;
    const form = shiftRotationForm(shift, epochYear);
    if (!form.ok) return form;
    runs.push(run.value);
    const backwards = direction === 'inverse' ? ', applied backwards' : '';
    const at = shift.rates === null ? '' : `, at epoch ${String(epochYear)}`;
    const matrix = form.value === 'full' ? ', full rotation matrix' : '';
    const way = `${shift.name}${backwards}${at}${matrix}`;
    methods.push({ id, name: way, accuracyM: shift.accuracyM, origin: shift.source });
    const known = shift.code === null ? '' : `${shift.code} `;
    said.push(`operation ${known}${way}: ${accuracyText(shift.accuracyM)}${caution === null ? '' : `; ${caution}`}`);
  }
  const watched = steps.flatMap(({ shift }) =>
    shift.area === null ? [] : [{ name: shift.code ?? shift.name, area: shift.area }],
  );
  const kept = steps.filter(({ shift }) => shift.heights === 'kept');
  const heights =
    kept.length === 0 ? 'transformed' : kept.some(({ direction }) => direction === 'inverse') ? 'kept-inverse' : 'kept';
  const [first, second] = runs;
  if (first === undefined) return success({ change: { kind: 'none' }, methods, said, watched, verticalM: null });
  const run: ShiftFunction =
    second === undefined
      ? first
      : (xM, yM, zM, out) => {
          first(xM, yM, zM, out);
          for (let i = 1; i < runs.length; i += 1) (runs[i] as ShiftFunction)(out.xM, out.yM, out.zM, out);
        };
  return success({ change: { kind: 'geocentric', run, heights }, methods, said, watched, verticalM: null });
}

/** A warning where coordinates of a frame fixed to its plate are to be moved along it. */
export function motionWarning(from: LoadedSide, options: ChangeOptions): readonly Problem[] {
  const { motion } = options;
  if (motion?.by.kind !== 'plate') return [];
  const frame = from.geographic.code === null ? null : operationFrameOf(from.geographic.code);
  if (frame === null ? from.geographic.code === null : frame.name.startsWith('ITRF') || frame.name === 'WGS 84')
    return [];
  return [
    warningProblem('system-mismatch', {
      message: `plate motion is reckoned in ${motion.by.pole.frame}, and ${from.geographic.name} may be fixed to its plate`,
      hint: 'coordinates of a datum that moves with its plate do not change with time: move them in the satellite frame, before or after the shift',
    }),
  ];
}
