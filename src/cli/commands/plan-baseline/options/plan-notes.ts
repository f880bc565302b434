import { MOST_TOLERANCES_DRAWN } from '../../../../tasks/plan/coverage-shapes.js';

/** What the summary of a plan says was left out: rows with errors, rings, lines and areas of the timetable. */
export function planNotes(rejected: number, fewRings: boolean, shapesNotTimed: boolean): readonly string[] {
  return [
    ...(rejected > 0
      ? [`${String(rejected)} ${rejected === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`]
      : []),
    ...(fewRings
      ? [
          `more than ${String(MOST_TOLERANCES_DRAWN)} pairs of tolerances: rings are drawn for the shortest and the longest range only`,
        ]
      : []),
    ...(shapesNotTimed ? ['the timetable visits points; lines and areas are not in it'] : []),
  ];
}
