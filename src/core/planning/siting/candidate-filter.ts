import type { BaseCandidate } from '../plan-point.js';

/** What a place must offer to be considered at all. Null or false: not asked. */
export interface CandidateDemands {
  readonly cellular: boolean;
  readonly minSkyScore: number | null;
  readonly maxCost: number | null;
}

export type ExclusionReason =
  'no-cellular' | 'cellular-unknown' | 'sky-too-low' | 'sky-unknown' | 'cost-too-high' | 'cost-unknown';

/**
 * Why a candidate is left out, or null when it stays. An attribute that is asked for and not known
 * counts as not met: a base without a network sends nothing.
 */
export function exclusionReason(candidate: BaseCandidate, demands: CandidateDemands): ExclusionReason | null {
  if (demands.cellular && candidate.cellular !== true)
    return candidate.cellular === null ? 'cellular-unknown' : 'no-cellular';
  if (demands.minSkyScore !== null) {
    if (candidate.skyScore === null) return 'sky-unknown';
    if (candidate.skyScore < demands.minSkyScore) return 'sky-too-low';
  }
  if (demands.maxCost !== null) {
    if (candidate.cost === null) return 'cost-unknown';
    if (candidate.cost > demands.maxCost) return 'cost-too-high';
  }
  return null;
}

/**
 * Order of preference between places that serve equally well: larger sky score first, then smaller
 * cost, then identifier by code unit (the same on every machine). Unknown comes after any known value.
 * Negative: `a` is preferred.
 */
export function comparePreference(a: BaseCandidate, b: BaseCandidate): number {
  return (
    ascending(a.skyScore === null ? Infinity : -a.skyScore, b.skyScore === null ? Infinity : -b.skyScore) ||
    ascending(a.cost ?? Infinity, b.cost ?? Infinity) ||
    (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
  );
}

/** Indices of candidates in order of preference. */
export function preferenceOrder(candidates: readonly BaseCandidate[]): readonly number[] {
  const known = candidates.map((candidate, index) => ({ candidate, index }));
  return known
    .sort((a, b) => comparePreference(a.candidate, b.candidate) || a.index - b.index)
    .map(({ index }) => index);
}

function ascending(a: number, b: number): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
