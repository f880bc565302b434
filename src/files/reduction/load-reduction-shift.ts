import { operationFrameOf } from '../../core/frames/operations/operation-frames.js';
import { operationByCode } from '../../core/frames/operations/operations.js';
import { createShiftFunction } from '../../core/frames/shifts/shift-function.js';
import { shiftRotationForm } from '../../core/frames/shifts/shift-rotation-form.js';
import type { Shift, ShiftDirection } from '../../core/frames/shifts/shift-definition.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridReading } from '../../io/grids/grid-reading.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { ReductionShift } from '../../tasks/reduce/reduction-shift.js';
import { loadShiftFile } from '../load-shift-file.js';
import { statedDirection } from '../stated-direction.js';

/**
 * The shift of `system.shift`: a shift file beside the session, or the code of a built-in operation.
 * Problems: those of the file or operation; system-mismatch where it does not lead from the fixes to the grid;
 * config-invalid-value for a shift that is none between frames, or that keeps heights; shift-epoch-missing.
 */
export async function loadReductionShift(
  text: string,
  folder: string,
  reading: GridReading,
  fixes: GeographicSystem,
  national: GeographicSystem,
  epochYear: number | null,
): Promise<Outcome<ReductionShift>> {
  const named = /^epsg:\d+$/iu.test(text.trim())
    ? operationShift(text, fixes, national)
    : await fileShift(text, folder, reading, fixes, national);
  if (!named.ok) return named;
  const { shift, direction, file } = named.value;
  if (shift.heights === 'kept') {
    return failure(
      errorProblem('config-invalid-value', {
        message: `shift ${shift.name} has no heights of its own, and a reduction needs them`,
        where: { path: 'system.shift' },
        hint: 'reduce in the frame of the fixes, then take the points over with transform',
      }),
    );
  }
  const run = createShiftFunction(shift, epochYear, direction);
  if (!run.ok) return run;
  const form = shiftRotationForm(shift, epochYear);
  if (!form.ok) return form;
  return success({
    shift,
    direction,
    epochYear: shift.rates === null ? null : epochYear,
    rotationForm: form.value,
    file,
    toNational: run.value,
  });
}

interface NamedShift {
  readonly shift: Shift;
  readonly direction: ShiftDirection;
  readonly file: ReductionShift['file'];
}

function operationShift(text: string, fixes: GeographicSystem, national: GeographicSystem): Outcome<NamedShift> {
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

async function fileShift(
  name: string,
  folder: string,
  reading: GridReading,
  fixes: GeographicSystem,
  national: GeographicSystem,
): Promise<Outcome<NamedShift>> {
  const loaded = await loadShiftFile(name, folder, reading);
  if (!loaded.ok) return loaded;
  if (loaded.value.kind === 'grid' || loaded.value.file.kind !== 'geocentric') {
    return failure(
      errorProblem('config-invalid-value', {
        message: `${name} is no shift between frames in space, which a reduction needs`,
        where: { path: 'system.shift' },
        hint: 'reduce in the frame of the fixes, then take the points over with transform',
      }),
    );
  }
  const { shift } = loaded.value.file;
  const ends = [fixes, national].map((geographic) => ({
    name: geographic.code ?? geographic.name,
    label: geographic.name,
    geographic,
  }));
  const [from, to] = ends as [(typeof ends)[number], (typeof ends)[number]];
  const direction = statedDirection(shift.from, shift.to, from, to, false);
  return direction.ok
    ? success({ shift, direction: direction.value, file: { name: loaded.value.name, sha256: loaded.value.sha256 } })
    : direction;
}
