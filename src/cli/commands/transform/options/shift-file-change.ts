import type { ShiftDirection } from '../../../../core/frames/shifts/shift-definition.js';
import { shiftMethodEntry } from '../../../../core/frames/shifts/shift-methods.js';
import { createVerticalOffsetAndSlope } from '../../../../core/frames/shifts/vertical-offset-and-slope.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { ChangeOptions } from './change-options.js';
import { accuracyText, unnamedChange } from './fitting-operations.js';
import { changeOfSteps, isSameFrame } from './frame-change.js';
import type { ResolvedChange } from './frame-change.js';
import type { LoadedShift } from '../../../../files/load-shift-file.js';
import { statedDirection } from '../../../../files/stated-direction.js';
import type { LoadedSide } from './transform-side.js';

/**
 * The change of frame by a shift file or a grid of shifts.
 * Problems: system-mismatch where the file states other systems, or is for the plane and a side is no grid, or for
 * heights alone and the datums differ; usage-conflict where --inverse contradicts the file; those of the shift.
 */
export function shiftFileChange(
  loaded: LoadedShift,
  from: LoadedSide,
  to: LoadedSide,
  options: ChangeOptions,
): Outcome<ResolvedChange> {
  const ends = loaded.kind === 'grid' ? null : loaded.file.kind === 'geocentric' ? loaded.file.shift : loaded.file;
  const stated = statedDirection(ends?.from ?? null, ends?.to ?? null, from, to, options.inverse);
  if (!stated.ok) return stated;
  const direction = stated.value;
  const backwards = backwardsOf(direction);
  if (loaded.kind === 'file' && loaded.file.kind === 'geocentric') {
    const { shift } = loaded.file;
    return changeOfSteps(
      [{ shift, direction, id: `EPSG:${String(shiftMethodEntry(shift.method).geocentricCode)}`, caution: null }],
      options,
    );
  }
  if (options.motion !== null) {
    return failure(
      errorProblem('usage-conflict', {
        message: 'coordinates are moved in time with shifts between frames only',
        hint: 'move them in a run of their own, with --epoch-from, --epoch-to and --plate',
      }),
    );
  }
  if (loaded.kind === 'grid') return success(gridChange(loaded, direction));
  const { file } = loaded;
  if (file.kind === 'geocentric') return failure(unnamedChange(from, to));
  const said = [`${file.name} (${file.methodCode})${backwards}: ${accuracyText(file.accuracyM)}`];
  const methods = [
    { id: file.methodCode, name: file.name + backwards, accuracyM: file.accuracyM, origin: file.source },
  ];
  if (file.kind === 'plane') {
    if (from.kind !== 'projected' || to.kind !== 'projected') {
      return failure(
        errorProblem('system-mismatch', {
          message: `${file.name} leads from grid to grid, and ${from.kind !== 'projected' ? from.label : to.label} is not projected`,
          hint: 'name projected systems with --from and --to',
        }),
      );
    }
    return success({
      change: { kind: 'plane', transformation: file.transformation, direction },
      methods,
      said,
      watched: [],
      verticalM: null,
    });
  }
  if (!isSameFrame(from, to)) return failure(unnamedChange(from, to));
  const { slope } = file;
  const at = createVerticalOffsetAndSlope({ ...slope, ellipsoid: to.geographic.ellipsoid });
  return success({
    change: { kind: 'none' },
    methods,
    said,
    watched: [],
    verticalM: direction === 'forward' ? at : (latitudeDeg, longitudeDeg) => -at(latitudeDeg, longitudeDeg),
  });
}

/** A grid of shifts names its frames in its own words, and states no accuracy. */
function gridChange(
  loaded: Extract<LoadedShift, { readonly kind: 'grid' }>,
  direction: ShiftDirection,
): ResolvedChange {
  const backwards = backwardsOf(direction);
  const name = `grid of shifts ${loaded.name}${backwards}`;
  const words = [loaded.file.fromName, loaded.file.toName].every((text) => text !== null)
    ? ` (${loaded.file.fromName ?? ''} to ${loaded.file.toName ?? ''}, as the file says)`
    : '';
  return {
    change: { kind: 'grid', shift: loaded.shift, direction },
    methods: [{ id: 'EPSG:9615', name: name + words, accuracyM: null, origin: loaded.name }],
    said: [`${name}${words}: accuracy not stated; heights unchanged`],
    watched: [],
    verticalM: null,
  };
}

function backwardsOf(direction: ShiftDirection): string {
  return direction === 'inverse' ? ', applied backwards' : '';
}
