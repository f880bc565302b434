/** a Q bᵀ: the covariance of two linear functions of unknowns with covariance Q, row by row. */
export function spread(a: readonly number[], covariance: ArrayLike<number>, b: readonly number[]): number {
  const size = a.length;
  let sum = 0;
  for (let i = 0; i < size; i += 1) {
    if (a[i] === 0) continue;
    for (let j = 0; j < size; j += 1) sum += (a[i] as number) * (covariance[i * size + j] as number) * (b[j] as number);
  }
  return sum;
}
