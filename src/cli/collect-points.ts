import type { OpenedPoints } from '../files/open-points.js';
import type { PointRow } from '../records/point-row.js';
import { locateProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { Rejects } from './rejects.js';
import { StopError } from './stop.js';
import type { Workbench } from './workbench.js';

/** The rows of one opened file, all in memory, and how many were left out. */
export interface CollectedPoints {
  readonly points: readonly PointRow[];
  readonly rejected: number;
}

/**
 * Reads an opened file to its end. Bad rows are reported and handed to `rejects`; the run stops after the whole file
 * was checked unless --on-error skip was given. `check` looks at each point that could be read: one with an error is a
 * bad row too.
 */
export async function collectPoints(
  opened: OpenedPoints, bench: Workbench, onError: 'stop' | 'skip', rejects: Rejects | null = null, check: ((point: PointRow) => readonly Problem[]) | null = null,
): Promise<CollectedPoints> {
  const points: PointRow[] = [];
  let rejected = 0;
  await rejects?.start(opened.input.headerRaw);
  for await (const item of opened.input.blocks()) {
    bench.breathe();
    const block = bench.take(item);
    const bad = [...block.rejected];
    bench.diagnostics.report(block.warnings);
    for (const row of block.rejected) bench.diagnostics.report(row.problems);
    for (const point of block.points) {
      const problems = (check?.(point) ?? []).map((problem) => locateProblem(problem, { source: opened.source.name, line: point.place.line }));
      bench.diagnostics.report(problems);
      if (problems.some(({ severity }) => severity === 'error')) bad.push({ line: point.place.line, raw: block.rawOf(point), problems });
      else points.push(point);
    }
    rejected += bad.length;
    if (bad.length > 0) await rejects?.add(bad.sort((a, b) => a.line - b.line));
    bench.progress.update(`${opened.source.name}: ${String(points.length + rejected)} rows`);
  }
  if (rejected > 0 && onError === 'stop') throw new StopError([]);
  return { points, rejected };
}
