import { operationFrameOf } from '../../../core/frames/operations/operation-frames.js';
import { operationByCode } from '../../../core/frames/operations/operations.js';
import { defaultShift } from '../../../core/frames/shifts/default-shift.js';
import type { ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import { shiftMethodEntry } from '../../../core/frames/shifts/shift-methods.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { realisationChain } from '../../../core/frames/realisations/realisation-chain.js';
import { realisationStep } from '../steps/realisation-step.js';
import { unnamedChange } from './fitting-operations.js';
import { isSameFrame } from './named-side.js';
import type { NamedSide } from './named-side.js';
import { shiftChange } from './shift-change.js';
import type { ChangeRequest, DirectedShift, PlannedChange } from './shift-change.js';

/**
 * The change of frame by --operation, --accept-default-shift or, with an epoch, the table of national frames; a --shift file
 * is resolved in `shiftFileChange`.
 * Problems: operation-not-named with the list of what fits; operation-unknown; system-mismatch where an operation does
 * not lead from one system to the other; usage-conflict; those of the shifts (shift-epoch-missing among them).
 */
export function namedChange(from: NamedSide, to: NamedSide, request: ChangeRequest): Outcome<PlannedChange> {
  const same = isSameFrame(from, to);
  const unused = same || request.operations.length > 0 || request.acceptsDefault ? unusedMotion(request) : null;
  if (unused !== null) return failure(unused);
  if (request.operations.length > 0) {
    if (same)
      return failure(
        errorProblem('usage-conflict', {
          message: `${from.label} and ${to.label} are one datum: no operation stands between them`,
          hint: 'leave out --operation',
        }),
      );
    const steps = operationSteps(from, to, request);
    return steps.ok ? shiftChange(steps.value, from, to, request) : steps;
  }
  if (same) return shiftChange([], from, to, request);
  if (!request.acceptsDefault) return chainedChange(from, to, request) ?? failure(unnamedChange(from, to));
  const steps = defaultSteps(from, to);
  return steps === null ? failure(unnamedChange(from, to)) : shiftChange(steps, from, to, request);
}

/** The change by the table of national frames, where it joins the two and the epoch is given; null elsewhere. */
function chainedChange(from: NamedSide, to: NamedSide, request: ChangeRequest): Outcome<PlannedChange> | null {
  const { epochYear, chainBy, chainModel, motion } = request;
  if (epochYear === null || motion !== null) return null;
  const chain = realisationChain({
    // A system without a code is in no table.
    fromCode: from.geographic.code ?? 'none',
    // Likewise.
    toCode: to.geographic.code ?? 'none',
    epochYear,
    by: chainBy,
    plateModel: chainModel,
  });
  if (chain === null) return unusedAsFailure(request);
  if (!chain.ok) return chain;
  const isPublished = chain.value.realisation.operation !== null;
  if (isPublished && unusedMotion(request) !== null) return unusedAsFailure(request);
  const step = realisationStep(chain.value);
  if (!step.ok) return step;
  const watched = chain.value.links.flatMap((link) => {
    const shift = link.kind === 'operation' ? link.match.operation.shift : null;
    return shift?.area == null ? [] : [{ name: shift.code ?? shift.name, area: shift.area }];
  });
  return success({ change: [{ step: step.value, direction: chain.value.direction }], vertical: null, watched });
}

function unusedAsFailure(request: ChangeRequest): Outcome<PlannedChange> | null {
  const unused = unusedMotion(request);
  return unused === null ? null : failure(unused);
}

/** The refusal of what would move points along a plate where nothing does. */
export function unusedMotion({ chainBy, chainModel }: ChangeRequest): Problem | null {
  if (chainBy === null && chainModel === null) return null;
  return errorProblem('usage-conflict', {
    message: 'a plate or a velocity is named with --epoch, and nothing in this run moves points by it',
    hint: 'it belongs to a chain between an ITRF and a national frame frozen at an epoch, or to --epoch-from and --epoch-to',
  });
}

function operationSteps(from: NamedSide, to: NamedSide, request: ChangeRequest): Outcome<readonly DirectedShift[]> {
  const target = to.geographic.code === null ? null : operationFrameOf(to.geographic.code);
  let at = from.geographic.code === null ? null : operationFrameOf(from.geographic.code);
  const steps: DirectedShift[] = [];
  for (const code of request.operations) {
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
      notJoining(request.operations.join(','), steps.map(({ shift }) => shift.name).join(', then '), from, to),
    );
  if (request.inverse && steps.some(({ direction }) => direction === 'forward')) {
    return failure(
      errorProblem('usage-conflict', {
        message: `--inverse would apply ${request.operations.join(',')} against the direction from ${from.geographic.name} to ${to.geographic.name}`,
        hint: 'leave it out: the direction of an operation follows from --from and --to',
      }),
    );
  }
  return success(steps);
}

function notJoining(code: string, name: string, from: NamedSide, to: NamedSide): Problem {
  const { hint } = unnamedChange(from, to);
  return errorProblem('system-mismatch', {
    message: `${code} (${name}) does not lead from ${from.geographic.name} to ${to.geographic.name}`,
    received: code,
    ...(hint !== undefined && { hint }),
  });
}

/** Source to WGS 84 and on to the target, each by what its definition carries; null where one carries nothing. */
function defaultSteps(from: NamedSide, to: NamedSide): readonly DirectedShift[] | null {
  const steps: DirectedShift[] = [];
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
