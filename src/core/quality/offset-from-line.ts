/** A place in the plane of a grid, with a height where one is known. */
export interface LinePlace {
  readonly eastM: number;
  readonly northM: number;
  readonly heightM: number | null;
}

/** Where a point stands to a line. */
export interface LineOffset {
  /** Index of the segment that is nearest. */
  readonly segment: number;
  /** Along the line from its first point to the foot of the point, metres of the grid. */
  readonly chainageM: number;
  /** Beyond an end of the line, along it, positive past the last point and negative before the first; else 0. */
  readonly alongM: number;
  /** Offset, positive to the right of the direction of the line. */
  readonly acrossM: number;
  /** The vector from the nearest place on the line to the point. */
  readonly eastM: number;
  readonly northM: number;
  /** Height over the line at the foot; null where either is not known. */
  readonly upM: number | null;
}

/** Segments that are looked at one by one. */
const LEAF = 8;
/** What rounding may make a distance smaller than that of a box around it: a share of it, and metres. */
const ROUNDING_SHARE = 1e-12;
const ROUNDING_M = 1e-6;

/**
 * Offsets of points from a line of straight segments in the grid.
 *
 * Given: line, two places or more. Returned: a function from a point to its offset, see `LineOffset`. Between segments, the nearest
 * one counts, and of two equally near the earlier. A segment of no length counts as its point.
 *
 * Notes: boxes around halves of the line, halves of these and so on say which segments cannot be nearest, so that time grows with the
 * logarithm of the segments where the line does not fold upon itself; held against looking at every segment by a property test.
 */
export function offsetsFromLine(line: readonly LinePlace[]): (point: LinePlace) => LineOffset {
  const chainageM = chainages(line);
  const root = boxOf(line, 0, line.length - 1);
  return (point) => offsetOn(line, nearestSegment(line, root, point), chainageM, point);
}

/** Distance along the line to each of its places, metres. */
function chainages(line: readonly LinePlace[]): Float64Array {
  const found = new Float64Array(line.length);
  for (let i = 0; i + 1 < line.length; i += 1) found[i + 1] = (found[i] as number) + lengthOf(line, i);
  return found;
}

function lengthOf(line: readonly LinePlace[], segment: number): number {
  const [from, to] = [line[segment] as LinePlace, line[segment + 1] as LinePlace];
  return Math.hypot(to.eastM - from.eastM, to.northM - from.northM);
}

/** Segments from the first up to the one before the last, what holds them, and its halves; null where they are few. */
interface SegmentBox {
  readonly first: number;
  readonly end: number;
  readonly west: number;
  readonly east: number;
  readonly south: number;
  readonly north: number;
  readonly halves: readonly [SegmentBox, SegmentBox] | null;
}

function boxOf(line: readonly LinePlace[], first: number, end: number): SegmentBox {
  if (end - first > LEAF) {
    const middle = (first + end) >> 1;
    const [a, b] = [boxOf(line, first, middle), boxOf(line, middle, end)];
    return {
      first,
      end,
      west: Math.min(a.west, b.west),
      east: Math.max(a.east, b.east),
      south: Math.min(a.south, b.south),
      north: Math.max(a.north, b.north),
      halves: [a, b],
    };
  }
  let [west, east, south, north] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = first; i <= end; i += 1) {
    const { eastM, northM } = line[i] as LinePlace;
    west = Math.min(west, eastM);
    east = Math.max(east, eastM);
    south = Math.min(south, northM);
    north = Math.max(north, northM);
  }
  return { first, end, west, east, south, north, halves: null };
}

/** Metres from a point to a box, 0 inside. */
function distanceToBox({ west, east, south, north }: SegmentBox, { eastM, northM }: LinePlace): number {
  const e = Math.max(west - eastM, 0, eastM - east);
  const n = Math.max(south - northM, 0, northM - north);
  return Math.sqrt(e * e + n * n);
}

interface Nearest {
  segment: number;
  distanceM: number;
}

function nearestSegment(line: readonly LinePlace[], root: SegmentBox, point: LinePlace): number {
  const nearest: Nearest = { segment: 0, distanceM: Infinity };
  search(line, root, point, nearest);
  return nearest.segment;
}

function search(line: readonly LinePlace[], box: SegmentBox, point: LinePlace, nearest: Nearest): void {
  if (distanceToBox(box, point) > nearest.distanceM * (1 + ROUNDING_SHARE) + ROUNDING_M) return;
  if (box.halves !== null) {
    const [a, b] = box.halves;
    const isFirstNearer = distanceToBox(a, point) <= distanceToBox(b, point);
    search(line, isFirstNearer ? a : b, point, nearest);
    search(line, isFirstNearer ? b : a, point, nearest);
    return;
  }
  for (let i = box.first; i < box.end; i += 1) {
    const { eastM, northM } = footOn(line, i, point);
    const distanceM = Math.hypot(eastM, northM);
    if (distanceM > nearest.distanceM || (distanceM === nearest.distanceM && i > nearest.segment)) continue;
    nearest.distanceM = distanceM;
    nearest.segment = i;
  }
}

/** The place on a segment that is nearest to a point: along it in metres, as it is and beyond its ends, as a share of it, and the vector from there. */
function footOn(
  line: readonly LinePlace[],
  segment: number,
  point: LinePlace,
): {
  readonly raw: number;
  readonly at: number;
  readonly share: number;
  readonly eastM: number;
  readonly northM: number;
} {
  const [from, to] = [line[segment] as LinePlace, line[segment + 1] as LinePlace];
  const e = to.eastM - from.eastM;
  const n = to.northM - from.northM;
  const length = Math.hypot(e, n);
  const pe = point.eastM - from.eastM;
  const pn = point.northM - from.northM;
  const raw = length === 0 ? 0 : (pe * e + pn * n) / length;
  const at = Math.min(length, Math.max(0, raw));
  const share = length === 0 ? 0 : at / length;
  return { raw, at, share, eastM: pe - share * e, northM: pn - share * n };
}

function offsetOn(line: readonly LinePlace[], segment: number, chainageM: Float64Array, point: LinePlace): LineOffset {
  const [from, to] = [line[segment] as LinePlace, line[segment + 1] as LinePlace];
  const { raw, at, share, eastM, northM } = footOn(line, segment, point);
  const e = to.eastM - from.eastM;
  const n = to.northM - from.northM;
  const length = Math.hypot(e, n);
  const heightM =
    from.heightM === null || to.heightM === null ? null : from.heightM + share * (to.heightM - from.heightM);
  const isFirst = segment === 0 && raw < 0;
  const isLast = segment + 2 === line.length && raw > length;
  return {
    segment,
    chainageM: (chainageM[segment] as number) + at,
    alongM: isFirst ? raw : isLast ? raw - length : 0,
    acrossM:
      length === 0
        ? Math.hypot(eastM, northM)
        : ((point.eastM - from.eastM) * n - (point.northM - from.northM) * e) / length,
    eastM,
    northM,
    upM: heightM === null || point.heightM === null ? null : point.heightM - heightM,
  };
}
