import type { Problem } from '../problem.js';
import type { OrbitElements } from './orbit-elements.js';

/** What a navigation file or an almanac holds. */
export interface NavigationContent {
  /** Its form as a page says it, such as `RINEX 3.04`. */
  readonly form: string;
  readonly elements: readonly OrbitElements[];
  /** Records of a kind that is not planned with, by what they are. */
  readonly skipped: ReadonlyMap<string, number>;
  /** What is wrong with records that could not be read, each located by its line. */
  readonly faults: readonly Problem[];
}
