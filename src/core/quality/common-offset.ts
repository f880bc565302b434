import { median } from '../numeric/median.js';
import type { LocalVector } from '../../records/points/point.js';

/** One vector by which most of some differences lie. */
export interface CommonOffset {
  readonly offset: LocalVector;
  /** Differences that are this one, and of how many. */
  readonly count: number;
  readonly of: number;
}

/** Fewer that are alike may be chance. */
const LEAST_ALIKE = 4;
/** Part of the differences that must be alike. */
const LEAST_SHARE = 2 / 3;
/** Nearer than this share of the vector, or than so many metres, is alike; a vector shorter than twice that is none. */
const NEAR_SHARE = 0.25;
const NEAR_M = 0.03;

/**
 * The vector that most of the differences have in common: many points that disagree by the same have one cause, a base set up anew or another pole,
 * and not each its own.
 *
 * Given: differences along east, north and up, metres, one of each point that disagrees, each the later occupation minus the earlier. Returned: the
 * median of each component where four or more and two thirds of all lie within a quarter of its length of it, 3 cm at least; null elsewhere.
 * Reference: common practice, no published source; the limits are ours.
 */
export function commonOffset(differences: readonly LocalVector[]): CommonOffset | null {
  if (differences.length < LEAST_ALIKE) return null;
  const middle = (of: (difference: LocalVector) => number): number => median(differences.map(of));
  const offset = {
    eastM: middle(({ eastM }) => eastM),
    northM: middle(({ northM }) => northM),
    upM: middle(({ upM }) => upM),
  };
  const lengthM = Math.hypot(offset.eastM, offset.northM, offset.upM);
  const nearM = Math.max(NEAR_M, NEAR_SHARE * lengthM);
  const count = differences.filter(
    ({ eastM, northM, upM }) => Math.hypot(eastM - offset.eastM, northM - offset.northM, upM - offset.upM) <= nearM,
  ).length;
  return lengthM >= 2 * NEAR_M && count >= LEAST_ALIKE && count >= LEAST_SHARE * differences.length
    ? { offset, count, of: differences.length }
    : null;
}
