import type { Fix } from '../../records/points/fix.js';
import type { JobEdits } from './job-edits.js';

/** Fixes under the names that the job gives their points on a day. */
export function renamedFixes(fixes: readonly Fix[], edits: JobEdits, day: string): readonly Fix[] {
  return fixes.map((fix) => {
    const pointId = edits.nameOf(fix.pointId, day);
    return pointId === fix.pointId ? fix : { ...fix, pointId };
  });
}
