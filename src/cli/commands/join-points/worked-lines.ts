import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { PointJoin } from '../../../records/points/point-join.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import { explainJoin } from '../../../tasks/explain/explain-join.js';

/** What --explain prints of each line, made when it is asked for: of many lines the text of all is long. */
export function* workedLines(joins: readonly PointJoin[], grid: GridSystem): Generator<WorkedPoint> {
  for (const join of joins)
    yield { title: `Line from ${join.from.pointId} to ${join.to.pointId}`, steps: explainJoin(join, grid) };
}
