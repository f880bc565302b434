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
