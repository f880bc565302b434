import type { PointRow } from '../../../records/points/point-row.js';

/** A point of either run or of both. One of the two is there at least. */
export interface RunPair<Row> {
  readonly before: Row | null;
  readonly after: Row | null;
}

/**
 * The occupations of two runs side by side: those of one name and one occupation; else, where a name stands once in each, that one.
 * Rows of one name and occupation are taken in their order.
 * Returned: in the order of the later run, then what only the earlier has, in its order.
 */
export function pairRuns<Row extends Pick<PointRow, 'pointId' | 'occupation'>>(
  before: readonly Row[],
  after: readonly Row[],
): readonly RunPair<Row>[] {
  const waiting = queues(before, nameOf);
  const ofId = queues(before, ({ pointId }) => pointId);
  const idsAfter = queues(after, ({ pointId }) => pointId);
  const taken = new Set<Row>();
  const pairs = after.map((row): RunPair<Row> => {
    const alone = ofId.get(row.pointId)?.length === 1 && idsAfter.get(row.pointId)?.length === 1;
    const found = alone ? ofId.get(row.pointId)?.[0] : waiting.get(nameOf(row))?.shift();
    if (found !== undefined) taken.add(found);
    return { before: found ?? null, after: row };
  });
  return [...pairs, ...before.filter((row) => !taken.has(row)).map((row) => ({ before: row, after: null }))];
}

function nameOf({ pointId, occupation }: Pick<PointRow, 'pointId' | 'occupation'>): string {
  return JSON.stringify([pointId, occupation]);
}

function queues<Row>(rows: readonly Row[], keyOf: (row: Row) => string): ReadonlyMap<string, Row[]> {
  const found = new Map<string, Row[]>();
  for (const row of rows) {
    const key = keyOf(row);
    const queue = found.get(key);
    if (queue === undefined) found.set(key, [row]);
    else queue.push(row);
  }
  return found;
}
