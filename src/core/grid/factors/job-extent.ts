/** The extent of a job, found while its points go by. */
export interface JobExtent {
  /** Takes a point; any unit, as long as it is the same. */
  readonly add: (first: number, second: number) => void;
  /** Greatest distance between two of the points, never too small and at most 0.1 % too large; 0 without points. */
  readonly extent: () => number;
}

const DIRECTIONS = 36;
const HALF_STEP_RAD = Math.PI / DIRECTIONS / 2;

/**
 * The greatest distance between two points of a job in constant memory: the width of the job is
 * kept in 36 directions, 5° apart. A diameter shows in the nearest of them shortened by at most
 * cos 2.5°, which is put back.
 *
 * Returned: functions that take points and give the extent. Errors: none; finite numbers expected.
 */
export function createJobExtent(): JobExtent {
  const cosines = new Float64Array(DIRECTIONS);
  const sines = new Float64Array(DIRECTIONS);
  const lowest = new Float64Array(DIRECTIONS).fill(Infinity);
  const highest = new Float64Array(DIRECTIONS).fill(-Infinity);
  for (let i = 0; i < DIRECTIONS; i += 1) {
    cosines[i] = Math.cos((i * Math.PI) / DIRECTIONS);
    sines[i] = Math.sin((i * Math.PI) / DIRECTIONS);
  }
  let any = false;
  return {
    add(first, second) {
      any = true;
      for (let i = 0; i < DIRECTIONS; i += 1) {
        const along = first * (cosines[i] as number) + second * (sines[i] as number);
        if (along < (lowest[i] as number)) lowest[i] = along;
        if (along > (highest[i] as number)) highest[i] = along;
      }
    },
    extent() {
      if (!any) return 0;
      let widest = 0;
      for (let i = 0; i < DIRECTIONS; i += 1) widest = Math.max(widest, (highest[i] as number) - (lowest[i] as number));
      return widest / Math.cos(HALF_STEP_RAD);
    },
  };
}
