import { pushAll } from '../../core/numeric/push-all.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { Problem } from '../../records/problem.js';
import { locateProblem } from '../../records/problem.js';
import type { OpenedPoints } from './open-points.js';

/**
 * Every row of an opened file of points. Given: the file; what else is asked of a row. Returned: the rows in their order. Problems:
 * those of every bad row, and then no point is returned: nothing is left out in silence.
 */
export async function wholePoints(
  { source, input }: Pick<OpenedPoints, 'source' | 'input'>,
  check: (row: PointRow) => readonly Problem[] = () => [],
): Promise<Outcome<readonly PointRow[]>> {
  const points: PointRow[] = [];
  const bad: Problem[] = [];
  const warnings: Problem[] = [];
  for await (const block of input.blocks()) {
    if (!block.ok) return block;
    pushAll(warnings, block.value.warnings);
    for (const { problems } of block.value.rejected) pushAll(bad, problems);
    for (const row of block.value.points) {
      const where = { source: source.name, line: row.place.line };
      const found = check(row).map((problem) => locateProblem(problem, where));
      pushAll(
        warnings,
        found.filter(({ severity }) => severity !== 'error'),
      );
      pushAll(
        bad,
        found.filter(({ severity }) => severity === 'error'),
      );
      points.push(row);
    }
  }
  return bad.length > 0 ? failureOf(bad) : success(points, warnings);
}
