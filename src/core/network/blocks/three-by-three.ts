// Products of blocks of three by three, written out: nearly all blocks of a network are such, and loops of three steps cost more
// than what is in them. Sums are taken in the order of the loops that blocks of other sizes go through.

/** A B of two blocks that begin each array, row by row, into the begin of the last. */
export function product3(a: Float64Array, b: Float64Array, into: Float64Array): void {
  rowsTimes3(a, b, 0, into, 0, 3);
}

/** So many rows of three numbers times a block, into an array from a place on. */
export function rowsTimes3(
  a: Float64Array,
  b: Float64Array,
  j: number,
  into: Float64Array,
  at: number,
  rows: number,
): void {
  const b0 = b[j]!;
  const b1 = b[j + 1]!;
  const b2 = b[j + 2]!;
  const b3 = b[j + 3]!;
  const b4 = b[j + 4]!;
  const b5 = b[j + 5]!;
  const b6 = b[j + 6]!;
  const b7 = b[j + 7]!;
  const b8 = b[j + 8]!;
  for (let i = 0; i < 3 * rows; i += 3) {
    const x = a[i]!;
    const y = a[i + 1]!;
    const z = a[i + 2]!;
    into[at + i] = x * b0 + y * b3 + z * b6;
    into[at + i + 1] = x * b1 + y * b4 + z * b7;
    into[at + i + 2] = x * b2 + y * b5 + z * b8;
  }
}

/** Aᵀ B, likewise. */
export function productOfTransposed3(a: Float64Array, b: Float64Array, into: Float64Array): void {
  const b0 = b[0]!;
  const b1 = b[1]!;
  const b2 = b[2]!;
  const b3 = b[3]!;
  const b4 = b[4]!;
  const b5 = b[5]!;
  const b6 = b[6]!;
  const b7 = b[7]!;
  const b8 = b[8]!;
  for (let i = 0; i < 3; i += 1) {
    const x = a[i]!;
    const y = a[3 + i]!;
    const z = a[6 + i]!;
    into[3 * i] = x * b0 + y * b3 + z * b6;
    into[3 * i + 1] = x * b1 + y * b4 + z * b7;
    into[3 * i + 2] = x * b2 + y * b5 + z * b8;
  }
}

/** Takes A Bᵀ off T; each block begins at a place of its array. */
export function subtractByTransposed3(
  t: Float64Array,
  at: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
): void {
  subtractRows3(t, at, a, i, b, j, 1, 3);
}

/** Takes A B off T, likewise. */
export function subtractProduct3(
  t: Float64Array,
  at: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
): void {
  subtractRows3(t, at, a, i, b, j, 3, 1);
}

/** Either of the two: so far apart in its array are the numbers of B down the sum, and across the columns of T. */
function subtractRows3(
  t: Float64Array,
  at: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
  down: number,
  across: number,
): void {
  const b0 = b[j]!;
  const b1 = b[j + across]!;
  const b2 = b[j + 2 * across]!;
  const b3 = b[j + down]!;
  const b4 = b[j + down + across]!;
  const b5 = b[j + down + 2 * across]!;
  const b6 = b[j + 2 * down]!;
  const b7 = b[j + 2 * down + across]!;
  const b8 = b[j + 2 * down + 2 * across]!;
  for (let row = 0; row < 9; row += 3) {
    const x = a[i + row]!;
    const y = a[i + row + 1]!;
    const z = a[i + row + 2]!;
    t[at + row]! -= x * b0 + y * b3 + z * b6;
    t[at + row + 1]! -= x * b1 + y * b4 + z * b7;
    t[at + row + 2]! -= x * b2 + y * b5 + z * b8;
  }
}

/** Takes Aᵀ B off T, likewise, row of A by row of A. */
export function subtractOfTransposed3(
  t: Float64Array,
  at: number,
  a: Float64Array,
  i: number,
  b: Float64Array,
  j: number,
): void {
  const b0 = b[j]!;
  const b1 = b[j + 1]!;
  const b2 = b[j + 2]!;
  const b3 = b[j + 3]!;
  const b4 = b[j + 4]!;
  const b5 = b[j + 5]!;
  const b6 = b[j + 6]!;
  const b7 = b[j + 7]!;
  const b8 = b[j + 8]!;
  for (let row = 0; row < 3; row += 1) {
    const x = a[i + row]!;
    const y = a[i + 3 + row]!;
    const z = a[i + 6 + row]!;
    const to = at + 3 * row;
    t[to] = t[to]! - x * b0 - y * b3 - z * b6;
    t[to + 1] = t[to + 1]! - x * b1 - y * b4 - z * b7;
    t[to + 2] = t[to + 2]! - x * b2 - y * b5 - z * b8;
  }
}

/** Takes A x off three numbers: A a block, x and the numbers each from a place of one array on. */
export function subtractTimes3(x: Float64Array, target: number, own: number, a: Float64Array, i: number): void {
  const x0 = x[own]!;
  const x1 = x[own + 1]!;
  const x2 = x[own + 2]!;
  x[target]! -= a[i]! * x0 + a[i + 1]! * x1 + a[i + 2]! * x2;
  x[target + 1]! -= a[i + 3]! * x0 + a[i + 4]! * x1 + a[i + 5]! * x2;
  x[target + 2]! -= a[i + 6]! * x0 + a[i + 7]! * x1 + a[i + 8]! * x2;
}

/** Takes Aᵀ x off the first three of some numbers, row of A by row of A. */
export function subtractTransposedTimes3(
  from: Float64Array,
  x: Float64Array,
  own: number,
  a: Float64Array,
  i: number,
): void {
  const x0 = x[own]!;
  const x1 = x[own + 1]!;
  const x2 = x[own + 2]!;
  from[0] = from[0]! - a[i]! * x0 - a[i + 3]! * x1 - a[i + 6]! * x2;
  from[1] = from[1]! - a[i + 1]! * x0 - a[i + 4]! * x1 - a[i + 7]! * x2;
  from[2] = from[2]! - a[i + 2]! * x0 - a[i + 5]! * x1 - a[i + 8]! * x2;
}
