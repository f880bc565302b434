import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { linearScale } from '../scales.js';
import type { Scale } from '../scales.js';
import type { Place } from '../shapes.js';

/** A piece of a grid laid on a figure with grid north up and the same scale both ways. */
export interface PlanView {
  readonly width: number;
  readonly height: number;
  /** The drawn box: left, top, right, bottom. */
  readonly box: { readonly left: number; readonly top: number; readonly right: number; readonly bottom: number };
  readonly place: (place: ReportPlace) => Place;
  readonly isInside: (place: Place) => boolean;
  readonly pixelsPerMetre: number;
  /** Axes in their own values, wherever they grow. */
  readonly across: { readonly axis: ReportAxis; readonly scale: Scale };
  readonly up: { readonly axis: ReportAxis; readonly scale: Scale };
}

/** Room for seven digits and a decimal or a sign beside the title of the axis. */
const LEFT = 74;
const RIGHT = 34;
const TOP = 14;
const BOTTOM = 94;
const MARGIN = 0.07;
/** The least and the most height of the drawn box, of its width: a taller one leaves a screen, and on paper no room for another. */
const FLATTEST = 0.42;
const TALLEST = 0.72;
/** Of a plan that stands under another: with it no third of a sheet of paper is left blank. */
export const SECOND_TALLEST = 0.58;

/**
 * A view that holds the places. Westing grows to the left and southing downwards, so that the map looks as
 * it does with eastings and northings; the numbers along the axes are those of the grid.
 */
export function planView(
  places: readonly ReportPlace[],
  axes: readonly [ReportAxis, ReportAxis],
  width: number,
  leastSpanM: number,
  tallest: number = TALLEST,
): PlanView {
  const first = extent(
    places.map((place) => place.first),
    leastSpanM / axes[0].metresPerUnit,
  );
  const second = extent(
    places.map((place) => place.second),
    leastSpanM / axes[1].metresPerUnit,
  );
  const inner = width - LEFT - RIGHT;
  const spanAcrossM = (first[1] - first[0]) * axes[0].metresPerUnit;
  const spanUpM = (second[1] - second[0]) * axes[1].metresPerUnit;
  const drawnHeight = Math.min(tallest * inner, Math.max(FLATTEST * inner, (inner * spanUpM) / spanAcrossM));
  const pixelsPerMetre = Math.min(inner / spanAcrossM, drawnHeight / spanUpM);
  const box = { left: LEFT, top: TOP, right: LEFT + inner, bottom: TOP + drawnHeight };
  const across = widened(first, inner / pixelsPerMetre / axes[0].metresPerUnit);
  const up = widened(second, drawnHeight / pixelsPerMetre / axes[1].metresPerUnit);
  const scaleAcross = linearScale(
    across,
    axes[0].direction === 'west' ? [box.right, box.left] : [box.left, box.right],
    6,
  );
  const scaleUp = linearScale(
    up,
    axes[1].direction === 'south' ? [box.top, box.bottom] : [box.bottom, box.top],
    Math.max(3, Math.round((6 * drawnHeight) / inner)),
  );
  return {
    width,
    height: TOP + drawnHeight + BOTTOM,
    box,
    place: (place) => ({ x: scaleAcross.to(place.first), y: scaleUp.to(place.second) }),
    isInside: ({ x, y }) => x >= box.left && x <= box.right && y >= box.top && y <= box.bottom,
    pixelsPerMetre,
    across: { axis: axes[0], scale: scaleAcross },
    up: { axis: axes[1], scale: scaleUp },
  };
}

function extent(values: readonly number[], least: number): readonly [number, number] {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (low > high) [low, high] = [0, 0];
  const middle = (low + high) / 2;
  const half = Math.max(((high - low) / 2) * (1 + 2 * MARGIN), least / 2);
  return [middle - half, middle + half];
}

function widened([low, high]: readonly [number, number], span: number): readonly [number, number] {
  const more = Math.max(0, span - (high - low)) / 2;
  return [low - more, high + more];
}
