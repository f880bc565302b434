import type { RunSummary } from '../../records/run-summary.js';
import type { Session } from '../../records/session.js';
import type { ReductionTotals } from './reduction-totals.js';

/** What a reduction was about, for its record: its session's title and bases, its points, its time and its worst figures. */
export function reductionRunSummary(
  { title, bases }: Pick<Session, 'title' | 'bases'>,
  totals: ReductionTotals,
): RunSummary {
  const { points } = totals;
  const span = totals.span();
  const circle = totals.worstCircle95();
  const vertical = totals.worstVertical95();
  return {
    title: title ?? '',
    points: points.accepted + points.review + points.rejected,
    firstEpochMs: span?.firstMs ?? null,
    lastEpochMs: span?.lastMs ?? null,
    bases: [...new Set(bases.map(({ id }) => id))],
    largest: [
      ...(circle === null ? [] : [{ figure: 'circle_95_m', value: circle.value, at: circle.pointId }]),
      ...(vertical === null ? [] : [{ figure: 'vertical_95_m', value: vertical.value, at: vertical.pointId }]),
    ],
  };
}
