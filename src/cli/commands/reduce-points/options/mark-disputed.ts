import { markRows } from '../../../../io/tables/points/mark-rows.js';
import type { WrittenRows } from '../../../../io/tables/points/mark-rows.js';
import type { Sink } from '../../../../io/bytes/output/sink.js';
import type { ProblemCode } from '../../../../records/codes/problem-codes.js';
import { withReasons } from '../../../../tasks/repeats/disputed-stands.js';
import type { DisputedStand } from '../../../../tasks/repeats/disputed-stands.js';
import type { PointVerdict } from '../../../../records/points/reduced-point.js';
import type { ReducedOccupation } from '../../../../tasks/reduce/reduction-working.js';

/** An occupation to explain, with what its point's other occupations say against it. */
export function explainedInDispute(reduced: ReducedOccupation, disputed: readonly DisputedStand[]): ReducedOccupation {
  const { pointId, occupation } = reduced.point;
  const found = disputed.find((stand) => stand.pointId === pointId && stand.occupation === occupation);
  return found === undefined ? reduced : { ...reduced, point: withReasons(reduced.point, found.reasons) };
}

/**
 * Writes the rows of contradicting occupations anew, which were written before the last of them was read: nothing is visible before
 * the end of the run, to a file or to standard output alike. Where nothing contradicts nothing is done.
 */
export async function markDisputed(
  disputed: readonly DisputedStand[],
  points: Sink | null,
  rows: WrittenRows,
): Promise<void> {
  if (disputed.length === 0 || points === null) return;
  const reasonsOf = new Map(disputed.map(({ row, reasons }) => [row, reasons]));
  await points.rewrite(
    markRows(
      rows,
      (row) => reasonsOf.has(row),
      // Our own words, read back.
      (row, old) =>
        withReasons(
          { verdict: old.verdict as PointVerdict, reasons: old.reasons as readonly ProblemCode[] },
          reasonsOf.get(row) ?? [],
        ),
    ),
  );
}
