import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { PointRepeat } from './repeat-pairs.js';

/** Nearer than this two antennas on poles have no room beside each other, metres. Common practice, no published source. */
export const ROOM_OF_AN_ANTENNA_M = 0.5;

/** When an occupation stood, and where: metres, in one frame for those of a point. */
export interface TimedStand {
  readonly startMs: number | null;
  readonly endMs: number | null;
  readonly position: { readonly eastM: number; readonly northM: number; readonly upM: number };
}

interface Timed extends TimedStand {
  readonly startMs: number;
  readonly endMs: number;
}

/** Two occupations of a point that cannot both be: places among those of the point, and from when they stand at once, milliseconds. */
export interface StandsAtOnce {
  readonly first: number;
  readonly second: number;
  readonly fromMs: number;
}

/**
 * Two occupations of one point that stand at the same time, and at one place or with one end: rows of one are those of the other again,
 * whole or in part, since an antenna stands but once. Touching ends are no such thing, but for those of single epochs.
 *
 * Given: the occupations of the point. Returned: the first such two in time, in the order given; null: there are none.
 */
export function standsAtOnce(stands: readonly TimedStand[]): StandsAtOnce | null {
  const timed = stands
    .flatMap(({ startMs, endMs, position }, place) =>
      startMs === null || endMs === null ? [] : [{ startMs, endMs, position, place }],
    )
    .sort((a, b) => a.startMs - b.startMs);
  let open: typeof timed = [];
  for (const stand of timed) {
    open = open.filter(({ endMs }) => endMs >= stand.startMs);
    const other = open.find((before) => isCopy(before, stand));
    if (other !== undefined)
      return {
        first: Math.min(other.place, stand.place),
        second: Math.max(other.place, stand.place),
        fromMs: stand.startMs,
      };
    open.push(stand);
  }
  return null;
}

/** Of two stands that one begins in the other. */
function isCopy(before: Timed, stand: Timed): boolean {
  const isSingle = stand.endMs === stand.startMs || before.endMs === before.startMs;
  if (stand.startMs === before.endMs && !isSingle) return false;
  return isOnePlace(before.position, stand.position) || (!isSingle && hasOneEnd(before, stand));
}

/** Rows reduced with the base of another day are another place, and begin or end at one instant all the same. */
function hasOneEnd(a: Timed, b: Timed): boolean {
  return a.startMs === b.startMs || a.endMs === b.endMs;
}

function isOnePlace(a: TimedStand['position'], b: TimedStand['position']): boolean {
  const [east, north, up] = [a.eastM - b.eastM, a.northM - b.northM, a.upM - b.upM];
  return east * east + north * north + up * up < ROOM_OF_AN_ANTENNA_M * ROOM_OF_AN_ANTENNA_M;
}

/** epoch-repeated where occupations of points of a run stand twice; null: none does. Its example is the first of them. */
export function occupiedTwice(repeats: readonly PointRepeat[]): Problem | null {
  const twice = repeats.filter(({ atOnce }) => atOnce !== null);
  const example = twice[0];
  if (example === undefined || example.atOnce === null) return null;
  const { pointId, occupations, atOnce } = example;
  const more = twice.length === 1 ? '' : `; ${twice.length} points have such occupations`;
  return errorProblem('epoch-repeated', {
    message: `point ${pointId}: occupation ${entryAt(occupations, atOnce.second)} stands at the same time as occupation ${entryAt(occupations, atOnce.first)}, at ${formatUtc(atOnce.fromMs)}${more}`,
    received: formatUtc(atOnce.fromMs),
    hint: 'an antenna stands once at a time, so the epochs of one are those of the other again: a file holds rows of another, as an export from the first day on does. Take the rows out, or leave the occupations out with [[exclude]] of the job; where two points have one name, give them two',
  });
}
