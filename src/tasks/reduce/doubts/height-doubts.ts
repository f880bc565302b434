import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { createHeightEnds } from '../../../core/quality/height-ends.js';
import type { HeightEndsPart } from '../../../core/quality/height-ends.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { Extreme } from '../totals/reduction-totals.js';

/**
 * A line from the base steeper than this is doubted: 1 is 45°, which open ground does not reach over such distances, and
 * a rock face does. Holds over every point of a run; the steepest is said. Common practice, no published source.
 */
export const SLOPE_LIMIT = 1;

const MOST_NAMED = 3;

/** height-far-from-others for heights of a run, those of its bases among them, that stand apart from all others; or null. */
export function farHeightWarning(points: HeightEndsPart, bases: readonly PreparedBase[]): Problem | null {
  const ends = createHeightEnds();
  ends.addPart(points);
  for (const { settings, origin } of bases) ends.add(`base ${settings.id}`, origin.geodetic.ellipsoidalHeightM);
  const found = ends.far();
  if (found === null) return null;
  const { far, lowestM, highestM, others, inFeet } = found;
  const metres = (value: number): string => `${formatFixed(value, 1)} m`;
  const named = far
    .slice(0, MOST_NAMED)
    .map(({ id, heightM }) => `${id} at ${metres(heightM)}`)
    .join(', ');
  const more = far.length > MOST_NAMED ? ` and ${far.length - MOST_NAMED} more` : '';
  const unit =
    inFeet === 'far'
      ? '; taken for feet they lie among the others'
      : inFeet === 'others'
        ? '; they lie among the others if those are in feet'
        : '';
  return warningProblem('height-far-from-others', {
    message: `${named}${more}: far from the ${others} others, which lie between ${metres(lowestM)} and ${metres(highestM)} above the ellipsoid${unit}`,
    hint:
      inFeet === null
        ? 'check the height, its kind and the antenna height'
        : 'check the unit of the heights: they are read in metres',
  });
}

/** slope-from-base-steep for the steepest line from a base to a point, or null. Given: height difference by distance, and whose it is. */
export function steepWarning(steepest: Extreme | null): Problem | null {
  if (steepest === null || steepest.value <= SLOPE_LIMIT) return null;
  return warningProblem('slope-from-base-steep', {
    message: `point ${steepest.pointId}: a slope of ${formatFixed(100 * steepest.value, 0)} % from its base`,
    hint: 'check the heights of the point and of the base, their unit and their kind',
  });
}
