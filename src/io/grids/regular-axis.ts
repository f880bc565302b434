/** Evenly spaced places along one axis, ascending. */
export interface RegularAxis {
  readonly first: number;
  readonly step: number;
  readonly count: number;
}

/** How far a place may be from even spacing, in steps: room for places written with few decimals. */
const SPACING_TOLERANCE_STEPS = 0.01;

/**
 * The even spacing behind places in any order and any repetition.
 *
 * Given: finite places, such as the latitudes of all nodes.
 * Returned: the axis, its step from its ends so that cut-off decimals do not add up; or the index of
 * the first place in the list that is not on it. Fewer than two different places give a step of 0.
 */
export function axisOf(places: Float64Array): RegularAxis | number {
  const different = places
    .slice()
    .sort()
    .filter((place, index, all) => index === 0 || place !== all[index - 1]);
  // No place at all gives an axis of none at 0.
  const first = different[0] ?? 0;
  // No place at all gives an axis of none at 0.
  const last = different[different.length - 1] ?? 0;
  if (different.length < 2) return { first, step: 0, count: different.length };
  const roughStep = smallestStep(different);
  const count = Math.round((last - first) / roughStep) + 1;
  const step = (last - first) / (count - 1);
  const wrong = places.findIndex((place) => {
    const index = (place - first) / step;
    return Math.abs(index - Math.round(index)) > SPACING_TOLERANCE_STEPS;
  });
  return wrong >= 0 ? wrong : { first, step, count };
}

/** The smallest step, estimated as the median of the differences below twice the smallest. */
function smallestStep(ascending: Float64Array): number {
  const steps = ascending
    .slice(1)
    .map((value, index) => value - (ascending[index] ?? value))
    .sort();
  // No place at all gives an axis of none at 0.
  const smallest = steps[0] ?? 0;
  const alike = steps.filter((step) => step < 1.5 * smallest);
  return alike.reduce((sum, step) => sum + step, 0) / alike.length;
}
