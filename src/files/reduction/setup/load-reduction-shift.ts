import { operationFrameOf } from '../../../core/frames/operations/operation-frames.js';
import { operationByCode } from '../../../core/frames/operations/operations.js';
import { everywhere, gridInSpace, keptHeightInSpace } from '../../../core/frames/grids/way-in-space.js';
import type { WaysInSpace } from '../../../core/frames/grids/way-in-space.js';
import { createShiftFunction } from '../../../core/frames/shifts/shift-function.js';
import { shiftMethodEntry } from '../../../core/frames/shifts/shift-methods.js';
import { shiftRotationForm } from '../../../core/frames/shifts/shift-rotation-form.js';
import type { Shift, ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import type { GridReading } from '../../../io/grids/grid-reading.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { ReductionShift } from '../../../tasks/reduce/reduction-shift.js';
import { shiftGridKind } from '../../../tasks/transform/steps/shift-grid-step.js';
import { loadShiftFile } from '../../grids/load-shift-file.js';
import type { LoadedShiftGrid } from '../../grids/load-shift-file.js';
import { statedDirection } from '../../systems/stated-direction.js';
import type { NamedEnd } from '../../systems/stated-direction.js';

/**
 * The shift of `system.shift`: a shift file or a grid of shifts beside the session, or the code of a built-in operation.
 * Problems: those of the file or operation; system-mismatch where it does not lead from the fixes to the grid;
 * config-invalid-value for a shift that is none between frames; shift-epoch-missing.
 */
export async function loadReductionShift(
  text: string,
  folder: string,
  reading: GridReading,
  fixes: GeographicSystem,
  national: GeographicSystem,
  epochYear: number | null,
): Promise<Outcome<ReductionShift>> {
  const ends = { fixes, national };
  if (/^epsg:\d+$/iu.test(text.trim())) {
    const named = operationShift(text, ends);
    return named.ok ? ofParameters(named.value, ends, epochYear) : named;
  }
  const loaded = await loadShiftFile(text, folder, reading);
  if (!loaded.ok) return loaded;
  const { name, sha256 } = loaded.value;
  if (loaded.value.kind === 'grid') return ofGrid(loaded.value, ends);
  if (loaded.value.file.kind !== 'geocentric') return failure(noShiftInSpace(text));
  const { shift } = loaded.value.file;
  const direction = directionOf(shift, ends);
  if (!direction.ok) return direction;
  return ofParameters({ shift, direction: direction.value, file: { name, sha256, test: null } }, ends, epochYear);
}

interface Ends {
  readonly fixes: GeographicSystem;
  readonly national: GeographicSystem;
}

interface NamedShift {
  readonly shift: Shift;
  readonly direction: ShiftDirection;
  readonly file: ReductionShift['file'];
}

function ofParameters(
  { shift, direction, file }: NamedShift,
  ends: Ends,
  epochYear: number | null,
): Outcome<ReductionShift> {
  const forward = createShiftFunction(shift, epochYear, 'forward');
  if (!forward.ok) return forward;
  const inverse = createShiftFunction(shift, epochYear, 'inverse');
  if (!inverse.ok) return inverse;
  const form = shiftRotationForm(shift, epochYear);
  if (!form.ok) return form;
  const keepsHeights = shift.heights === 'kept';
  const ways = keepsHeights
    ? keptHeightInSpace({ forward: forward.value, inverse: inverse.value }, ...ellipsoidsOf(ends, direction))
    : { forward: everywhere(forward.value), inverse: everywhere(inverse.value) };
  const { name, code, accuracyM, source } = shift;
  const methodId = `EPSG:${String(shiftMethodEntry(shift.method).geocentricCode)}`;
  return success({
    by: keepsHeights
      ? { kind: 'places', methodId, keepsHeights }
      : { kind: 'parameters', shift, rotationForm: form.value },
    ...{ name, code, accuracyM, source, direction, file },
    epochYear: shift.rates === null ? null : epochYear,
    ...directed(ways, direction),
  });
}

function ofGrid({ grid, facts, name, sha256, test }: LoadedShiftGrid, ends: Ends): Outcome<ReductionShift> {
  if (grid.kind === 'vertical') return failure(noShiftInSpace(name));
  const direction = directionOf(facts, ends);
  if (!direction.ok) return direction;
  const ways = gridInSpace(grid, ...ellipsoidsOf(ends, direction.value));
  const { id, words } = shiftGridKind(grid);
  const keepsHeights = grid.kind === 'geographic' && grid.heightAddedM === null;
  return success({
    by: { kind: 'places', methodId: id, keepsHeights },
    name: `${words} ${name}`,
    ...{ code: null, accuracyM: null, source: name, epochYear: null },
    direction: direction.value,
    file: { name, sha256, test },
    ...directed(ways, direction.value),
  });
}

/** Of the source and the target of a shift that leads in a direction from the fixes to the grid. */
function ellipsoidsOf({ fixes, national }: Ends, direction: ShiftDirection) {
  const [source, target] = direction === 'forward' ? [fixes, national] : [national, fixes];
  return [source.ellipsoid, target.ellipsoid] as const;
}

function directed(ways: WaysInSpace, direction: ShiftDirection): Pick<ReductionShift, 'toNational' | 'toFixes'> {
  return direction === 'forward'
    ? { toNational: ways.forward, toFixes: ways.inverse }
    : { toNational: ways.inverse, toFixes: ways.forward };
}

function operationShift(text: string, { fixes, national }: Ends): Outcome<NamedShift> {
  const found = operationByCode(text);
  if (!found.ok) return found;
  const { from, to, shift, code, reversible } = found.value;
  const [a, b] = [fixes, national].map((system) => (system.code === null ? null : operationFrameOf(system.code)));
  if (a === from && b === to) return success({ shift, direction: 'forward', file: null });
  if (a === to && b === from && reversible) return success({ shift, direction: 'inverse', file: null });
  return failure(
    errorProblem('system-mismatch', {
      message: `${code} (${shift.name}) does not lead from ${fixes.name}, the frame of the fixes, to ${national.name}, that of the grid`,
      received: code,
      hint: 'set system.fixes to the frame of the fixes, such as EPSG:7912 for ITRF2014',
    }),
  );
}

function directionOf(
  stated: { readonly from: string | null; readonly to: string | null },
  { fixes, national }: Ends,
): Outcome<ShiftDirection> {
  const [from, to] = [fixes, national].map((geographic) => ({
    name: geographic.code ?? geographic.name,
    label: geographic.name,
    geographic,
  })) as [NamedEnd, NamedEnd];
  return statedDirection(stated.from, stated.to, from, to, false);
}

function noShiftInSpace(name: string): Problem {
  return errorProblem('config-invalid-value', {
    message: `${name} is no shift between frames in space, which a reduction needs`,
    where: { path: 'system.shift' },
    hint: 'reduce in the frame of the fixes, then take the points over with transform',
  });
}
