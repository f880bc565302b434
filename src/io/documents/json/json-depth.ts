/** Deeper than any document we read has a use for, and far from where walking it would exhaust the stack. */
export const MAX_JSON_DEPTH = 64;

/** Whether a value read from JSON is nested deeper than so many lists and objects. */
export function isDeeperThan(value: unknown, depth: number): boolean {
  if (typeof value !== 'object' || value === null) return false;
  if (depth === 0) return true;
  for (const inner of Array.isArray(value) ? value : Object.values(value)) {
    if (isDeeperThan(inner, depth - 1)) return true;
  }
  return false;
}
