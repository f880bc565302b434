import { shiftMethodEntry } from '../../../../core/frames/shifts/shift-methods.js';
import { identityWords } from '../../../../core/geoid/geoid-test-value.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import type { MethodRef } from '../../../../records/runs/provenance.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { accuracyText } from '../../../../tasks/transform/change/fitting-operations.js';
import { present } from '../../../../records/present.js';

/** A twentieth of a millimetre: less would print as nothing. */
const SHOWN_FROM_M = 5e-5;

/** The shift of a reduction for the run record; null without one. */
export function shiftMethod({ shift }: ReductionSetup): MethodRef | null {
  if (shift === null) return null;
  const { by, code, accuracyM, source } = shift;
  const isFull = by.kind === 'parameters' && by.rotationForm === 'full';
  return {
    id:
      code ?? (by.kind === 'places' ? by.methodId : `EPSG:${String(shiftMethodEntry(by.shift.method).geocentricCode)}`),
    name: `${shiftWords(shift)}${isFull ? ', full rotation matrix' : ''}`,
    accuracyM,
    origin: source,
  };
}

/** What a summary says of the shift, and of what it changed against moving every point with its base alone. */
export function shiftNotes(setup: ReductionSetup, totals: ReductionTotals): readonly string[] {
  const { shift, fixesSystem, grid } = setup;
  if (shift === null) return [];
  const { code, accuracyM, by, file } = shift;
  const lines = [
    `frame of the fixes (${fixesSystem.name}) to that of the grid (${present(grid, 'grid').base.name}): ${code === null ? '' : `${code} `}${shiftWords(shift)}: ${accuracyText(accuracyM)}${kept(by)}${identity(file)}`,
  ];
  const difference = totals.frameDifference();
  // A shift without rotation turns nothing.
  if (difference !== null && difference.value >= SHOWN_FROM_M) {
    lines.push(
      `the vectors were turned into the frame of the grid point by point; moving every point with its base alone would differ by up to ${formatFixed(difference.value * 1000, 1)} mm (${difference.pointId})`,
    );
  }
  return lines;
}

type UsedShift = NonNullable<ReductionSetup['shift']>;

function kept(by: UsedShift['by']): string {
  return by.kind === 'places' && by.keepsHeights ? '; ellipsoidal heights stay those of the fixes' : '';
}

/** A grid of shifts is told from another of its name by its digest and a node. */
function identity(file: UsedShift['file']): string {
  return file?.test == null ? '' : ` (${identityWords(file.sha256, file.test)})`;
}

function shiftWords({ name, direction, epochYear }: UsedShift): string {
  return `${name}${direction === 'inverse' ? ', applied backwards' : ''}${epochYear === null ? '' : `, at epoch ${String(epochYear)}`}`;
}
