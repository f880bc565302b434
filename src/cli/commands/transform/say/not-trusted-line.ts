/** What is said of figures of trust that are left out; `by` is what moved the points. */
export function notTrustedLine(names: readonly string[], by: string): string {
  return `left out, because they do not hold the accuracy of ${by}: ${names.join(', ')}`;
}
