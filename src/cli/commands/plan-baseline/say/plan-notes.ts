import { drawnTolerances, MOST_TOLERANCES_DRAWN } from '../../../../tasks/plan/targets/coverage-shapes.js';
import type { ToleranceRange } from '../../../../tasks/plan/tolerance-ranges.js';
import type { PlanInput } from '../options/plan-inputs.js';

/** What the summary of a plan says was left out: rows with errors, rings, lines and areas of the timetable. */
export function planNotes(
  { rejected, shapes }: Pick<PlanInput, 'rejected' | 'shapes'>,
  isCovered: boolean,
  isTimed: boolean,
  ranges: readonly ToleranceRange[],
): readonly string[] {
  return [
    ...(rejected > 0
      ? [`${String(rejected)} ${rejected === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`]
      : []),
    ...(isCovered && drawnTolerances(ranges).length < ranges.length
      ? [
          `more than ${String(MOST_TOLERANCES_DRAWN)} pairs of tolerances: rings are drawn for the shortest and the longest range only`,
        ]
      : []),
    ...(isTimed && shapes.length > 0 ? ['the timetable visits points; lines and areas are not in it'] : []),
  ];
}
