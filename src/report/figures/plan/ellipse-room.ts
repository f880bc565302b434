import { smallestOf } from '../../../core/numeric/extremes.js';
import type { PlottedEllipse } from '../../../records/reports/network-page-report.js';
import type { PlanView } from './plan-view.js';

/** How many times larger than the ground ellipses may be drawn so that the frame cuts none of them. */
export function roomInFrame(
  ellipses: readonly Pick<PlottedEllipse, 'place' | 'summary'>[],
  { box: { left, right, top, bottom }, place: placeOf, pixelsPerMetre }: PlanView,
): number {
  return smallestOf(
    ellipses.map(({ place, summary: { ellipseMajor95M } }) => {
      const { x, y } = placeOf(place);
      return Math.min(x - left, right - x, y - top, bottom - y) / (ellipseMajor95M * pixelsPerMetre);
    }),
    Infinity,
  );
}
