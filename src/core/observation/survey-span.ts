import type { SurveySpan } from '../../records/reports/parts/survey-span.js';

/** Takes in epochs; gives back from the first to the last of them, null where none was stated. */
export interface SpanCollector {
  readonly add: (point: { readonly firstEpochMs: number | null; readonly lastEpochMs: number | null }) => void;
  readonly result: () => SurveySpan | null;
}

/** From the first to the last epoch of all that is added. */
export function createSpan(): SpanCollector {
  let firstMs = Infinity;
  let lastMs = -Infinity;
  return {
    add(point) {
      firstMs = Math.min(firstMs, point.firstEpochMs ?? Infinity);
      lastMs = Math.max(lastMs, point.lastEpochMs ?? -Infinity);
    },
    result: () => (firstMs > lastMs ? null : { firstMs, lastMs }),
  };
}

/** From the first to the last epoch of some points; null: none states one. */
export function spanOf(points: readonly Parameters<SpanCollector['add']>[0][]): SurveySpan | null {
  const span = createSpan();
  for (const point of points) span.add(point);
  return span.result();
}
