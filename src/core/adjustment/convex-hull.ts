/** A place in a plane, metres. */
export interface PlanePoint {
  readonly eastM: number;
  readonly northM: number;
}

/**
 * The smallest convex polygon around some points.
 *
 * Given: points in any order. Returned: its corners anticlockwise, none twice and none on a side; a
 * single point or two where the points are one place or one line. Method: the lower and upper chains
 * of the points in order of east, then north.
 */
export function convexHull(points: readonly PlanePoint[]): readonly PlanePoint[] {
  const sorted = [...points].sort((a, b) => a.eastM - b.eastM || a.northM - b.northM);
  const distinct = sorted.filter(
    (point, index) =>
      index === 0 || point.eastM !== sorted[index - 1]?.eastM || point.northM !== sorted[index - 1]?.northM,
  );
  if (distinct.length < 3) return distinct;
  const lower = chain(distinct);
  const upper = chain([...distinct].reverse());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
}

function chain(points: readonly PlanePoint[]): PlanePoint[] {
  const kept: PlanePoint[] = [];
  for (const point of points) {
    while (kept.length >= 2 && !(turn(kept[kept.length - 2]!, kept[kept.length - 1]!, point) > 0)) kept.pop();
    kept.push(point);
  }
  return kept;
}

/** Twice the area of a triangle, positive when it runs anticlockwise. */
function turn(a: PlanePoint, b: PlanePoint, c: PlanePoint): number {
  return (b.eastM - a.eastM) * (c.northM - a.northM) - (b.northM - a.northM) * (c.eastM - a.eastM);
}

/**
 * How far a place is outside a convex polygon.
 *
 * Given: the corners of `convexHull`, one at least; the place. Returned: metres to the nearest point of
 * the polygon, 0 inside and on its sides.
 */
export function distanceOutsideHullM(hull: readonly PlanePoint[], place: PlanePoint): number {
  if (hull.length >= 3 && hull.every((corner, index) => turn(corner, hull[(index + 1) % hull.length]!, place) >= 0))
    return 0;
  let nearest = Infinity;
  hull.forEach((corner, index) => {
    nearest = Math.min(nearest, distanceToSideM(corner, hull[(index + 1) % hull.length]!, place));
  });
  return nearest;
}

function distanceToSideM(a: PlanePoint, b: PlanePoint, place: PlanePoint): number {
  const [de, dn] = [b.eastM - a.eastM, b.northM - a.northM];
  const length2 = de * de + dn * dn;
  const along = length2 === 0 ? 0 : ((place.eastM - a.eastM) * de + (place.northM - a.northM) * dn) / length2;
  const t = Math.min(1, Math.max(0, along));
  return Math.hypot(place.eastM - a.eastM - t * de, place.northM - a.northM - t * dn);
}
