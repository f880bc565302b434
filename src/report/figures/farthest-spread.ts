import type { XyPoint } from './drawings/xy-drawing.js';

/** Marks of a figure that show how sure they are, unless more fail. */
export const MOST_SPREADS = 60;
/** Circles of those that fail, where more do. */
const MOST_CIRCLES = 24;

/**
 * Of many marks those whose circle or bar is drawn: of those that fail the bar always, circles of the farthest; of the others the farthest, as far as there is room.
 */
export function withSpread(points: readonly XyPoint[]): readonly XyPoint[] {
  const sure = points.filter(({ circle, bar }) => circle != null || bar != null);
  if (sure.length <= MOST_SPREADS) return sure;
  const failing = withFewCircles(sure.filter(({ classes }) => classes === 'bad'));
  const others = sure.filter(({ classes }) => classes !== 'bad').toSorted((a, b) => farOut(b) - farOut(a));
  return [...failing, ...others.slice(0, Math.max(0, MOST_SPREADS - failing.length))];
}

/** Bars of all, and circles of the farthest: those of hundreds hide the crosses in them. */
function withFewCircles(failing: readonly XyPoint[]): readonly XyPoint[] {
  const circled = failing.filter(({ circle }) => circle != null);
  if (circled.length <= MOST_CIRCLES) return failing;
  const kept = new Set(circled.toSorted((a, b) => farOut(b) - farOut(a)).slice(0, MOST_CIRCLES));
  return failing.filter((point) => point.circle == null || kept.has(point));
}

/** What a caption says of it: empty where all have it. */
export function spreadWords(points: readonly XyPoint[]): string {
  const sure = points.filter(({ circle, bar }) => circle != null || bar != null).length;
  const drawn = withSpread(points).length;
  return drawn === sure ? '' : `, of ${String(drawn)} of ${String(sure)}: those that fail, then the farthest out`;
}

/** How far out: in plan from nought, of a height upwards or downwards alone. */
function farOut({ x, y, circle }: XyPoint): number {
  return circle == null ? Math.abs(y) : Math.hypot(x, y);
}
