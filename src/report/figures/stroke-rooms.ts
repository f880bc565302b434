import type { PlotBox } from './plot-frame.js';
import type { TakenPlace } from './plan/place-labels.js';
import type { Scale } from './scales.js';
import type { Place } from './shapes.js';

/** Places along a curve that words keep off. */
const STROKE_PX = 6;

/** Where the line of nought is, on the figure; nowhere where the axis does not hold it. */
export function nought({ domain: [low, high], to }: Scale): readonly number[] {
  return low < 0 && high > 0 ? [to(0)] : [];
}

/** A level line right across, as a place that words keep off. */
export function levelRoom(y: number, { left, right }: PlotBox): TakenPlace {
  return { x: (left + right) / 2, y, wide: (right - left) / 2, clear: 1 };
}

/** Places along a curve so near to each other that no word has room between two. */
export function alongCurve(places: readonly Place[]): readonly TakenPlace[] {
  return places.flatMap((to, index): readonly TakenPlace[] => {
    const from = places[index - 1] ?? to; // The first has none before it.
    const count = Math.max(1, Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / STROKE_PX));
    return Array.from({ length: count }, (_, i) => ({
      x: from.x + ((to.x - from.x) * (i + 1)) / count,
      y: from.y + ((to.y - from.y) * (i + 1)) / count,
      clear: 2,
    }));
  });
}
