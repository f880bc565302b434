/** Inverts small symmetric positive definite matrices where they stand. */
export interface SmallInverter {
  /**
   * Given: an array; where in it the matrix begins, n × n row by row; n; the size of each of its unknowns, by which a pivot is
   * judged, and where those begin; the least share of that size a pivot must keep. Returned: true, and the inverse in its place,
   * exactly symmetric; false where a pivot keeps less, and the matrix is as it was.
   */
  readonly invert: (
    array: Float64Array,
    at: number,
    n: number,
    scales: Float64Array,
    scalesAt: number,
    leastPivot: number,
  ) => boolean;
}

/** An inverter for matrices of at most so many rows. */
export function createSmallInverter(most: number): SmallInverter {
  const root = new Float64Array(most * most);
  const turned = new Float64Array(most * most);
  return {
    invert(array, at, n, scales, scalesAt, leastPivot) {
      if (n === 3) return invertThree(array, at, scales, scalesAt, leastPivot);
      // L Lᵀ, then the inverse of L, then its square.
      for (let i = 0; i < n; i += 1) {
        for (let j = 0; j <= i; j += 1) {
          let rest = array[at + i * n + j]!;
          for (let k = 0; k < j; k += 1) rest -= root[i * n + k]! * root[j * n + k]!;
          if (i > j) root[i * n + j] = rest / root[j * n + j]!;
          else {
            if (!(rest > leastPivot * scales[scalesAt + i]! && rest < Infinity)) return false;
            root[i * n + i] = Math.sqrt(rest);
          }
        }
      }
      for (let j = 0; j < n; j += 1) {
        turned[j * n + j] = 1 / root[j * n + j]!;
        for (let i = j + 1; i < n; i += 1) {
          let sum = 0;
          for (let k = j; k < i; k += 1) sum += root[i * n + k]! * turned[k * n + j]!;
          turned[i * n + j] = -sum / root[i * n + i]!;
        }
      }
      for (let i = 0; i < n; i += 1) {
        for (let j = 0; j <= i; j += 1) {
          let sum = 0;
          for (let k = i; k < n; k += 1) sum += turned[k * n + i]! * turned[k * n + j]!;
          array[at + i * n + j] = sum;
          array[at + j * n + i] = sum;
        }
      }
      return true;
    },
  };
}

/** The same, written out for three: nearly all blocks of a network are such. */
function invertThree(a: Float64Array, at: number, scales: Float64Array, scalesAt: number, leastPivot: number): boolean {
  const first = a[at]!;
  if (!(first > leastPivot * scales[scalesAt]! && first < Infinity)) return false;
  const l00 = Math.sqrt(first);
  const l10 = a[at + 3]! / l00;
  const second = a[at + 4]! - l10 * l10;
  if (!(second > leastPivot * scales[scalesAt + 1]! && second < Infinity)) return false;
  const l11 = Math.sqrt(second);
  const l20 = a[at + 6]! / l00;
  const l21 = (a[at + 7]! - l20 * l10) / l11;
  const third = a[at + 8]! - l20 * l20 - l21 * l21;
  if (!(third > leastPivot * scales[scalesAt + 2]! && third < Infinity)) return false;
  const l22 = Math.sqrt(third);
  const i00 = 1 / l00;
  const i11 = 1 / l11;
  const i22 = 1 / l22;
  const i10 = -(l10 * i00) / l11;
  const i20 = -(l20 * i00 + l21 * i10) / l22;
  const i21 = -(l21 * i11) / l22;
  a[at] = i00 * i00 + i10 * i10 + i20 * i20;
  a[at + 1] = i11 * i10 + i21 * i20;
  a[at + 2] = i22 * i20;
  a[at + 3] = a[at + 1]!;
  a[at + 4] = i11 * i11 + i21 * i21;
  a[at + 5] = i22 * i21;
  a[at + 6] = a[at + 2]!;
  a[at + 7] = a[at + 5]!;
  a[at + 8] = i22 * i22;
  return true;
}
