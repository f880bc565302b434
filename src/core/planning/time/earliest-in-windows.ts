/** A span of time in which work may be done, seconds. */
export interface WorkWindow {
  readonly fromS: number;
  readonly toS: number;
}

/**
 * When something of a length can begin.
 *
 * Given: the earliest time, seconds; its length; windows in any order, one of which it must lie in whole; absent: any time will do. Returned: the
 * time; Infinity where no window has room for it.
 */
export function earliestInWindows(
  notBeforeS: number,
  lengthS: number,
  windows: readonly WorkWindow[] | undefined,
): number {
  if (windows === undefined) return notBeforeS;
  return windows.reduce((earliest, { fromS, toS }) => {
    const startS = Math.max(notBeforeS, fromS);
    return startS + lengthS <= toS ? Math.min(earliest, startS) : earliest;
  }, Infinity);
}
