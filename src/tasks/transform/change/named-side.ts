import { operationFrameOf } from '../../../core/frames/operations/operation-frames.js';
import { sameOperationFrame } from '../../../core/frames/operations/operations.js';
import { systemsAgree } from '../../../core/grid/systems/systems-agree.js';
import type { TransformSide } from '../transform-plan.js';

/** A side by its name, with what its definition says of a shift to WGS 84. */
export interface NamedSide extends TransformSide {
  /** For messages: code and name. */
  readonly label: string;
  /** Numbers of `+towgs84`; empty for WGS 84 itself; null where the definition carries none. */
  readonly toWgs84: readonly number[] | null;
  /** PROJ string, for the record. */
  readonly definition: string | null;
}

/** Whether the two sides are one frame, so that no operation stands between them. */
export function isSameFrame(from: NamedSide, to: NamedSide): boolean {
  const [a, b] = [from.geographic, to.geographic];
  return systemsAgree(a, b) || (a.code !== null && b.code !== null && sameOperationFrame(a.code, b.code));
}

/** Name of the frame of a side in the table of operations; null where it is not there. */
export function frameNameOf({ geographic }: TransformSide): string | null {
  return geographic.code === null ? null : (operationFrameOf(geographic.code)?.name ?? null);
}
