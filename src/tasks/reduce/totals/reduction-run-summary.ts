import type { RunSummary } from '../../../records/runs/run-summary.js';
import type { Session } from '../../../records/session.js';
import type { ReductionTotals } from './reduction-totals.js';

/** What a reduction was about, for its record: the title and bases of its sessions, its points, its time and its worst figures. */
export function reductionRunSummary(
  sessions: readonly Pick<Session, 'title' | 'bases'>[],
  totals: ReductionTotals,
): RunSummary {
  const { points } = totals;
  const span = totals.span();
  const circle = totals.worstCircle95();
  const vertical = totals.worstVertical95();
  return {
    // A run without a title has none in its record.
    title: sessions.find(({ title }) => title !== null)?.title ?? '',
    points: points.accepted + points.review + points.rejected,
    firstEpochMs: span?.firstMs ?? null,
    lastEpochMs: span?.lastMs ?? null,
    bases: [...new Set(sessions.flatMap(({ bases }) => bases.map(({ id }) => id)))],
    largest: [
      ...(circle === null ? [] : [{ figure: 'circle_95_m', value: circle.value, at: circle.pointId }]),
      ...(vertical === null ? [] : [{ figure: 'vertical_95_m', value: vertical.value, at: vertical.pointId }]),
    ],
  };
}
