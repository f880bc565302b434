import type { Problem } from '../../../records/problem.js';
import type { Session } from '../../../records/session.js';
import { phaseCentreUnknown } from '../../../tasks/check/check-fix.js';
import { inputKind } from '../open-fixes.js';
import type { FixInputKind } from '../open-fixes.js';

/** config-missing where all positions will be taken as the phase centre's and its offset is not stated; rows of their own word are checked as they come. */
export function phaseCentreMissing(
  { rover }: Session,
  paths: readonly string[],
  stated: FixInputKind | null,
): Problem | null {
  if (rover.phaseCentreOffsetM !== null) return null;
  const isLog = paths.some((path) => inputKind(path, stated) === 'nmea');
  return rover.referencePoint === 'apc' || (rover.referencePoint === null && isLog) ? phaseCentreUnknown() : null;
}
