/** Least and most of something, metres. */
export type Span = readonly [least: number, most: number];

const ROUND_M = 10_000;
/** Coordinates begin above this. */
const LEAST_M = 10_000;
/** Between what must not be taken for each other. */
const APART_M = 20_000;
const MOST_TRIES = 2000;

const isApart = ([a, b]: Span, [c, d]: Span): boolean => a > d + APART_M || c > b + APART_M;

/** False origins and the coordinates that they give. */
export interface FalseOrigins {
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
  readonly eastings: Span;
  readonly northings: Span;
}

/**
 * False origins in round 10 km, so that every coordinate is positive, no northing can be taken for an easting, and neither for a number
 * of the national grid, with whatever sign.
 *
 * Given: spans of the coordinates without false origins; those of the national grid, both axes, metres, as they are written; none where it is
 * not known. Returned: the smallest such; null where none was found.
 */
export function falseOrigins(east: Span, north: Span, national: readonly Span[]): FalseOrigins | null {
  const taken = national.map(([least, most]): Span => {
    const [a, b] = [Math.abs(least), Math.abs(most)];
    return least <= 0 && most >= 0 ? [0, Math.max(a, b)] : [Math.min(a, b), Math.max(a, b)];
  });
  const placed = (span: Span, others: readonly Span[]): { readonly origin: number; readonly span: Span } | null => {
    let origin = Math.ceil((LEAST_M - span[0]) / ROUND_M) * ROUND_M;
    for (let i = 0; i < MOST_TRIES; i += 1, origin += ROUND_M) {
      const moved: Span = [span[0] + origin, span[1] + origin];
      if (others.every((other) => isApart(moved, other))) return { origin, span: moved };
    }
    return null;
  };
  const eastings = placed(east, taken);
  if (eastings === null) return null;
  const northings = placed(north, [...taken, eastings.span]);
  if (northings === null) return null;
  return {
    falseEastingM: eastings.origin,
    falseNorthingM: northings.origin,
    eastings: eastings.span,
    northings: northings.span,
  };
}
