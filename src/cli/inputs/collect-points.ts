import type { OpenedPoints } from '../../files/points/open-points.js';
import type { PointRow } from '../../records/points/point-row.js';
import type { RecordList } from '../../records/record-list.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { createPackedPoints } from '../../tasks/reduce/point-packing.js';
import type { Rejects } from '../outputs/rejects.js';
import { StopError } from '../shell/run/stop.js';
import type { Workbench } from '../shell/workbench.js';

/** The rows of one opened file, all in memory, and how many were left out. */
export interface CollectedPoints<List extends RecordList<PointRow> = readonly PointRow[]> {
  readonly points: List;
  readonly rejected: number;
}

/** Looks at a point that could be read: one with an error is a bad row too. */
type PointCheck = (point: PointRow) => readonly Problem[];

/** The points as `eachPoint` hands them on. */
export async function collectPoints(
  opened: OpenedPoints,
  bench: Workbench,
  onError: 'stop' | 'skip',
  rejects: Rejects | null = null,
  check: PointCheck | null = null,
): Promise<CollectedPoints> {
  const points: PointRow[] = [];
  return { points, rejected: await eachPoint(opened, bench, onError, rejects, check, (point) => points.push(point)) };
}

/** The same packed, for files of any length; a point that is asked for is made anew. */
export async function collectPackedPoints(
  opened: OpenedPoints,
  bench: Workbench,
  onError: 'stop' | 'skip',
  rejects: Rejects | null,
): Promise<CollectedPoints<RecordList<PointRow>>> {
  const points = createPackedPoints();
  return {
    points,
    rejected: await eachPoint(opened, bench, onError, rejects, null, (point) => {
      points.push(point);
    }),
  };
}

/**
 * Reads an opened file to its end, and hands each good point to `keep`. Bad rows are reported and handed to `rejects`; the run
 * stops after the whole file was checked unless --on-error skip was given. `afterBlock` is waited for with each block. Returned: how many
 * rows were bad.
 */
export async function eachPoint(
  opened: OpenedPoints,
  bench: Workbench,
  onError: 'stop' | 'skip',
  rejects: Rejects | null,
  check: PointCheck | null,
  keep: (point: PointRow) => unknown,
  afterBlock: (() => Promise<void>) | null = null,
): Promise<number> {
  let good = 0;
  let rejected = 0;
  await rejects?.start(opened.input.headerRaw);
  for await (const item of opened.input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    const bad = [...block.rejected];
    bench.diagnostics.report(block.warnings);
    for (const row of block.rejected) bench.diagnostics.report(row.problems);
    for (const point of block.points) {
      if (check === null) {
        keep(point);
        good += 1;
        continue;
      }
      const found = check(point);
      const problems =
        found.length === 0
          ? found
          : found.map((problem) => locateProblem(problem, { source: opened.source.name, line: point.place.line }));
      if (problems.length > 0) bench.diagnostics.report(problems);
      if (problems.some(({ severity }) => severity === 'error'))
        bad.push({ line: point.place.line, raw: block.rawOf(point), problems });
      else {
        keep(point);
        good += 1;
      }
    }
    rejected += bad.length;
    if (bad.length > 0) await rejects?.add(bad.sort((a, b) => a.line - b.line));
    await afterBlock?.();
    bench.progress.update(`${opened.source.name}: ${String(good + rejected)} rows`);
  }
  if (rejected > 0 && onError === 'stop') throw new StopError([]);
  return rejected;
}
