/** An error that some points have in common, whole: that of the base they were measured from. */
export interface SharedError {
  readonly id: string;
  /** Its variance along each axis, m², above 0. */
  readonly varianceM2: number;
}

/** Where the unknowns of an error begin among all unknowns; null where a point shares none. */
export function sharedColumn(
  shared: readonly SharedError[],
  id: string | null | undefined,
  first: number,
  size: number,
): number | null {
  const at = shared.findIndex((error) => error.id === id);
  return at < 0 ? null : first + size * at;
}
