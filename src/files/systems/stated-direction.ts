import type { ShiftDirection } from '../../core/frames/shifts/shift-definition.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { systemCodes } from './system-codes.js';
import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';

/** What of a side a shift file can name. */
export interface NamedEnd {
  readonly name: string;
  /** For messages: code and name. */
  readonly label: string;
  readonly geographic: GeographicSystem;
}

/**
 * The direction a shift file is to be applied in: forward, unless the systems it states stand the other way round, or
 * `inverse` was asked for and the file states none.
 * Problems: system-mismatch where it states other systems; usage-conflict where `inverse` contradicts it.
 */
export function statedDirection(
  fileFrom: string | null,
  fileTo: string | null,
  from: NamedEnd,
  to: NamedEnd,
  inverse: boolean,
): Outcome<ShiftDirection> {
  const asked: ShiftDirection = inverse ? 'inverse' : 'forward';
  if (fileFrom === null && fileTo === null) return success(asked);
  const fits = (code: string | null, side: NamedEnd): boolean =>
    code === null || side.name === code || systemCodes(side.geographic, code).includes(code);
  const forward = fits(fileFrom, from) && fits(fileTo, to);
  const backward = fits(fileFrom, to) && fits(fileTo, from);
  if (!forward && !backward) {
    return failure(
      errorProblem('system-mismatch', {
        message: `the shift file leads from ${fileFrom ?? 'a system not stated'} to ${fileTo ?? 'a system not stated'}, and the points go from ${from.label} to ${to.label}`,
        hint: 'use the file of these two systems, or mend what it states of them',
      }),
    );
  }
  if (forward && backward) return success(asked);
  const found: ShiftDirection = forward ? 'forward' : 'inverse';
  if (inverse && found === 'forward') {
    return failure(
      errorProblem('usage-conflict', {
        message: `the shift file leads from ${fileFrom ?? from.label} to ${fileTo ?? to.label}, as --from and --to do: --inverse would apply it backwards`,
        hint: 'leave out --inverse, or exchange --from and --to',
      }),
    );
  }
  return success(found);
}
