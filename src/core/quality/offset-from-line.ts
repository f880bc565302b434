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

/**
 * Offset of a point from a line of straight segments in the grid.
 *
 * Given: point; line, two places or more. Returned: see `LineOffset`. Between segments, the nearest one counts, and of two
 * equally near the earlier. A segment of no length counts as its point.
 */
export function offsetFromLine(point: LinePlace, line: readonly LinePlace[]): LineOffset {
  let best: LineOffset | null = null;
  let nearest = Infinity;
  let before = 0;
  for (let i = 0; i + 1 < line.length; i += 1) {
    const from = line[i] as LinePlace;
    const to = line[i + 1] as LinePlace;
    const e = to.eastM - from.eastM;
    const n = to.northM - from.northM;
    const length = Math.hypot(e, n);
    const pe = point.eastM - from.eastM;
    const pn = point.northM - from.northM;
    const raw = length === 0 ? 0 : (pe * e + pn * n) / length;
    const at = Math.min(length, Math.max(0, raw));
    const share = length === 0 ? 0 : at / length;
    const eastM = pe - share * e;
    const northM = pn - share * n;
    const distance = Math.hypot(eastM, northM);
    if (distance < nearest) {
      nearest = distance;
      const heightM =
        from.heightM === null || to.heightM === null ? null : from.heightM + share * (to.heightM - from.heightM);
      const isFirst = i === 0 && raw < 0;
      const isLast = i + 2 === line.length && raw > length;
      best = {
        segment: i,
        chainageM: before + at,
        alongM: isFirst ? raw : isLast ? raw - length : 0,
        acrossM: length === 0 ? distance : (pe * n - pn * e) / length,
        eastM,
        northM,
        upM: heightM === null || point.heightM === null ? null : point.heightM - heightM,
      };
    }
    before += length;
  }
  return best as LineOffset;
}
