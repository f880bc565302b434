import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { RecordList } from '../../../records/record-list.js';

/** Where each known point stands among its rows, by its name. `what`: what they are called. Problems: value-duplicate-id for one that is named twice. */
export function knownPoints(
  rows: RecordList<PointRow>,
  source: string,
  what: 'control' | 'design point',
): Outcome<ReadonlyMap<string, number>> {
  const known = new Map<string, number>();
  const problems: Problem[] = [];
  let at = 0;
  for (const { pointId, place } of rows) {
    if (known.has(pointId))
      problems.push(
        errorProblem('value-duplicate-id', {
          message: `${what} ${pointId} is given twice`,
          where: { source, line: place.line },
          received: pointId,
        }),
      );
    known.set(pointId, at);
    at += 1;
  }
  return problems.length > 0 ? failureOf(problems) : success(known);
}
