import { repeatTest } from '../../core/observation/repeats/repeat-test.js';
import type { RepeatTest } from '../../core/observation/repeats/repeat-test.js';
import type { JointTest } from '../../core/quality/joint-test.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { ComparedStands } from './compare-stands.js';
import type { KeptContrasts } from './contrast-store.js';
import type { StandsAtOnce } from './stands-at-once.js';

/** A point with several occupations, and what the one test of all of them says. */
export interface PointRepeat {
  readonly pointId: string;
  readonly occupations: readonly string[];
  readonly test: JointTest;
  /** The longest of their baselines, metres; 0 where none is known. */
  readonly longestM: number;
  /** What they say of the precision of the day. */
  readonly contrasts: KeptContrasts;
  /** Two of them that cannot both be; null: there are none. */
  readonly atOnce: StandsAtOnce | null;
}

/** A pair of occupations and how far they are apart. */
export interface RepeatPair {
  readonly first: ReducedPoint;
  readonly second: ReducedPoint;
  readonly test: RepeatTest;
  /** By the test of all occupations of the point: one of these is at fault, as far as it says. */
  readonly disagrees: boolean;
}

/** Of more points with repeats as many, evenly taken, say how noisy the day was. */
const MOST_OF_DAY = 20_000;

/** Whether the contrasts of a point with repeats are kept, by its place among so many. */
export function isOfDay(place: number, count: number): boolean {
  return place % Math.ceil(count / MOST_OF_DAY) === 0;
}

/** Of a point with more occupations each is listed against the one before it only; the test holds all of them. */
export const MOST_PAIRED = 10;

/** Places of the pairs that are listed of so many occupations: all of them, or neighbours. */
export function pairPlaces(count: number): readonly (readonly [number, number])[] {
  const pairs: [number, number][] = [];
  for (let second = 1; second < count; second += 1) {
    for (let first = count > MOST_PAIRED ? second - 1 : 0; first < second; first += 1) pairs.push([first, second]);
  }
  return pairs;
}

/** Whether a pair has a part in what the test of all found: the odd one, or any where none could be named. */
export function isInDispute({ disagrees, odd }: JointTest, first: number, second: number): boolean {
  return disagrees && (odd === null || odd === first || odd === second);
}

/** The pairs of a point that are listed. */
export function listedPairs(
  points: readonly ReducedPoint[],
  { estimates, times, test }: ComparedStands,
): readonly RepeatPair[] {
  return pairPlaces(points.length).flatMap(([i, j]) => {
    const [first, second, a, b] = [points[i], points[j], estimates[i], estimates[j]];
    return first === undefined || second === undefined || a === undefined || b === undefined
      ? []
      : [{ first, second, test: repeatTest(a, b, times), disagrees: isInDispute(test, i, j) }];
  });
}
