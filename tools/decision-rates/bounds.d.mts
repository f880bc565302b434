export interface Bound {
  readonly id: string;
}
export const BOUNDS: readonly Bound[];
/** Says each bound that does not hold. Returned: whether all that were measured hold. */
export function judgeBounds(results: Readonly<Record<string, unknown>>, say: (line: string) => void): boolean;
