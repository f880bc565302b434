/** What is said of rejected points, which have no position. */
export function withoutPlaceLine(count: number): string {
  return `${String(count)} rejected ${count === 1 ? 'point has' : 'points have'} no position and ${count === 1 ? 'is' : 'are'} left out`;
}
