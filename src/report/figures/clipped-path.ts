import type { Place } from './shapes.js';
import { polylinePath } from './shapes.js';

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Room beyond the box that a line may keep, so that its ends are not seen inside. */
const BEYOND = 2;

/**
 * The path of what a polyline has inside a box. A line that reaches far beyond a figure costs a printer as much as one
 * that is seen, dash by dash. Source: Liang and Barsky, A new concept and method for line clipping, ACM Transactions on
 * Graphics 3(1), 1984 (from memory).
 */
export function clippedPath(places: readonly Place[], isClosed: boolean, box: Box): string {
  const wide = {
    left: box.left - BEYOND,
    right: box.right + BEYOND,
    top: box.top - BEYOND,
    bottom: box.bottom + BEYOND,
  };
  const pieces: Place[][] = [];
  const [start] = places;
  const all = isClosed && start !== undefined ? [...places, start] : places;
  for (const [index, to] of all.entries()) {
    const from = all[index - 1];
    const inside = from === undefined ? null : clippedSegment(from, to, wide);
    if (inside === null) continue;
    const last = pieces.at(-1);
    const end = last?.at(-1);
    if (end?.x === inside[0].x && end.y === inside[0].y) last?.push(inside[1]);
    else pieces.push([...inside]);
  }
  return pieces.map((piece) => polylinePath(piece)).join('');
}

/** What of a segment lies inside; null: nothing. */
function clippedSegment(from: Place, to: Place, box: Box): readonly [Place, Place] | null {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  let enters = 0;
  let leaves = 1;
  const sides: readonly (readonly [number, number])[] = [
    [-dx, from.x - box.left],
    [dx, box.right - from.x],
    [-dy, from.y - box.top],
    [dy, box.bottom - from.y],
  ];
  for (const [outwards, room] of sides) {
    if (outwards === 0) {
      if (room < 0) return null;
      continue;
    }
    const share = room / outwards;
    if (outwards < 0) enters = Math.max(enters, share);
    else leaves = Math.min(leaves, share);
    if (enters > leaves) return null;
  }
  const at = (share: number): Place => ({ x: from.x + share * dx, y: from.y + share * dy });
  return [enters === 0 ? from : at(enters), leaves === 1 ? to : at(leaves)];
}
