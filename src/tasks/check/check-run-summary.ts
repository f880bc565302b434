import type { RecordList } from '../../records/record-list.js';
import type { LargestFigure, RunSummary } from '../../records/runs/run-summary.js';
import type { Session } from '../../records/session.js';
import { measuredPoint } from './check-row-packing.js';
import type { CheckRow } from './judge/check-tolerances-setup.js';

/** What a check was about, for its record: how many points were compared (`pointCount` where that is known), when they were measured, and the largest differences. */
export function checkRunSummary(
  { title, bases }: Pick<Session, 'title' | 'bases'>,
  rows: RecordList<CheckRow>,
  pointCount: number | null = null,
): RunSummary {
  const points = new Set<string>();
  let firstEpochMs: number | null = null;
  let lastEpochMs: number | null = null;
  let horizontal: LargestFigure | null = null;
  let vertical: LargestFigure | null = null;
  const larger = (old: LargestFigure | null, figure: string, value: number, at: string): LargestFigure =>
    old === null || value > old.value ? { figure, value, at } : old;
  for (const row of rows) {
    const { pointId, firstM, secondM, upM } = row;
    const measured = measuredPoint(row);
    if (pointCount === null) points.add(pointId);
    const first = measured === null ? null : measured.firstEpochMs;
    const last = measured === null ? null : measured.lastEpochMs;
    if (first !== null) firstEpochMs = Math.min(firstEpochMs ?? first, first);
    if (last !== null) lastEpochMs = Math.max(lastEpochMs ?? last, last);
    if (firstM !== null && secondM !== null)
      horizontal = larger(horizontal, 'horizontal_difference_m', Math.hypot(firstM, secondM), pointId);
    if (upM !== null) vertical = larger(vertical, 'vertical_difference_m', Math.abs(upM), pointId);
  }
  return {
    // A run without a title has none in its record.
    title: title ?? '',
    points: pointCount ?? points.size,
    firstEpochMs,
    lastEpochMs,
    bases: [...new Set(bases.map(({ id }) => id))],
    largest: [horizontal, vertical].filter((figure) => figure !== null),
  };
}
