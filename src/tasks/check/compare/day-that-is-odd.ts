import { dayOfOccupation } from '../../job/occupation-name.js';
import type { RepeatGroup } from './check-tolerances-repeats.js';

/** A day of a job whose occupations stand alone at point after point. */
export interface OddDay {
  readonly day: string;
  /** Points at which its occupation stands alone, and all that disagree. */
  readonly count: number;
  readonly of: number;
}

/** Fewer points than this are no pattern. An assumption. */
const LEAST_POINTS = 3;

/**
 * The one day whose occupations stand alone wherever one does, and which every point that disagrees was occupied on; null where there is none.
 *
 * Note: with that, one mistake of the day (its base antenna, its pole) is likelier than one at each point.
 */
export function dayThatIsOdd(groups: readonly RepeatGroup[]): OddDay | null {
  const disagreeing = groups.filter(({ cause }) => cause !== null);
  const odd = disagreeing.flatMap(({ odd: name }) => (name === null ? [] : [dayOfOccupation(name)]));
  const [day] = odd;
  if (day == null || odd.length < LEAST_POINTS || odd.some((other) => other !== day)) return null;
  const isOnAll = disagreeing.every(({ occupations }) => occupations.some((name) => dayOfOccupation(name) === day));
  return isOnAll ? { day, count: odd.length, of: disagreeing.length } : null;
}
