/** A corner in a plane. */
export interface PlaneCorner {
  readonly gridFirst: number;
  readonly gridSecond: number;
}

/** Indexes of two sides that have a place in common besides the corner neighbours share; null where none do. */
export function crossingSides(corners: readonly PlaneCorner[]): readonly [number, number] | null {
  const n = corners.length;
  const at = (index: number): PlaneCorner => corners[index % n]!;
  for (let i = 0; i < n; i += 1) {
    for (let j = i + 1; j < n; j += 1) {
      const neighbours = j === i + 1 || (i === 0 && j === n - 1);
      if (neighbours ? foldsBack(i, j, at, n) : meet(at(i), at(i + 1), at(j), at(j + 1))) return [i, j];
    }
  }
  return null;
}

/** Neighbouring sides that lie on each other, or a side without length. */
function foldsBack(i: number, j: number, at: (index: number) => PlaneCorner, n: number): boolean {
  const [start, shared, end] = i === 0 && j === n - 1 && n > 2 ? [at(1), at(0), at(j)] : [at(i), at(j), at(j + 1)];
  const [ax, ay] = [start.gridFirst - shared.gridFirst, start.gridSecond - shared.gridSecond];
  const [bx, by] = [end.gridFirst - shared.gridFirst, end.gridSecond - shared.gridSecond];
  const cross = ax * by - ay * bx;
  const dot = ax * bx + ay * by;
  // A side without length has neither product.
  return cross === 0 && dot >= 0;
}

function meet(a: PlaneCorner, b: PlaneCorner, c: PlaneCorner, d: PlaneCorner): boolean {
  const [s1, s2, s3, s4] = [side(c, d, a), side(c, d, b), side(a, b, c), side(a, b, d)];
  if (s1 * s2 < 0 && s3 * s4 < 0) return true;
  return (
    (s1 === 0 && between(c, d, a)) ||
    (s2 === 0 && between(c, d, b)) ||
    (s3 === 0 && between(a, b, c)) ||
    (s4 === 0 && between(a, b, d))
  );
}

function side(a: PlaneCorner, b: PlaneCorner, c: PlaneCorner): number {
  return Math.sign(
    (b.gridFirst - a.gridFirst) * (c.gridSecond - a.gridSecond) -
      (b.gridSecond - a.gridSecond) * (c.gridFirst - a.gridFirst),
  );
}

function between(a: PlaneCorner, b: PlaneCorner, c: PlaneCorner): boolean {
  const within = (u: number, v: number, w: number): boolean => Math.min(u, v) <= w && w <= Math.max(u, v);
  return within(a.gridFirst, b.gridFirst, c.gridFirst) && within(a.gridSecond, b.gridSecond, c.gridSecond);
}
