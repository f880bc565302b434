import { LIMIT_FIELDS } from '../../../records/settings/limit-fields.js';

/** What a limit is compared with. */
export type LimitAxis = (typeof LIMIT_FIELDS.axis.choices)[number];

/** What a limit is applied to. */
export type LimitUse = (typeof LIMIT_FIELDS.applies_to.choices)[number];

/** Every check: what a rule is applied to that does not say. */
export const EVERY_USE: readonly LimitUse[] = LIMIT_FIELDS.applies_to.default;

/** Which part of a rule set the limit. */
export type LimitTerm = 'constant' | 'proportion' | 'root-distance' | 'floor' | 'cap';

/**
 * A limit as a function of distance: min(cap, max(floor, terms)), the terms a + b·(d + d₀) and c·√K
 * joined by plain sum or root-sum-square.
 */
export interface LimitRule {
  readonly name: string;
  /** `2d`: length of the horizontal difference; `1d`: the larger of its two components; `up`: |height difference|. */
  readonly axis: LimitAxis;
  /** What the limit is meant to hold, 0 to 1; null: not stated. Written beside every verdict, never used to rescale. */
  readonly probability: number | null;
  readonly combine: (typeof LIMIT_FIELDS.combine.choices)[number];
  readonly constantM: number;
  /** b, parts per million. */
  readonly ppm: number;
  /** d₀, added to the distance before the proportion, metres. */
  readonly distanceOffsetM: number;
  /** c, metres per root kilometre. */
  readonly perRootKmM: number;
  readonly floorM: number | null;
  readonly capM: number | null;
}

/** A rule, and the checks it belongs to. */
export interface UsedLimit {
  readonly rule: LimitRule;
  readonly uses: readonly LimitUse[];
}

/** A limit at one distance, and what set it. */
export interface LimitValue {
  readonly limitM: number;
  readonly governedBy: LimitTerm;
}

/** Whether a rule needs a distance. */
export function needsDistance(rule: LimitRule): boolean {
  return rule.ppm > 0 || rule.perRootKmM > 0;
}

/**
 * The limit of a rule at a distance.
 *
 * Given: rule; distance, metres, or null where it is unknown. Returned: the limit, metres, and the term
 * that governs it: the largest of the terms summed, else floor or cap; null where the rule needs a
 * distance and there is none.
 * Reference: docs/methods/limits.md; worked values TW-EXAM-104070 905-04 question 2.
 */
export function limitAt(rule: LimitRule, distanceM: number | null): LimitValue | null {
  if (distanceM === null && needsDistance(rule)) return null;
  // Not known and not needed, as asked above.
  const d = distanceM ?? 0;
  const proportion = rule.ppm === 0 ? 0 : rule.ppm * 1e-6 * (d + rule.distanceOffsetM);
  const root = rule.perRootKmM * Math.sqrt(d / 1000);
  let limitM =
    rule.combine === 'rss' ? Math.hypot(rule.constantM, proportion, root) : rule.constantM + proportion + root;
  let governedBy: LimitTerm = 'constant';
  if (proportion > rule.constantM && proportion >= root) governedBy = 'proportion';
  else if (root > rule.constantM) governedBy = 'root-distance';
  if (rule.floorM !== null && limitM < rule.floorM) {
    limitM = rule.floorM;
    governedBy = 'floor';
  }
  if (rule.capM !== null && limitM > rule.capM) {
    limitM = rule.capM;
    governedBy = 'cap';
  }
  return { limitM, governedBy };
}

/** A limit that is one number. */
export function constantLimit(
  name: string,
  axis: LimitAxis,
  limitM: number,
  probability: number | null = null,
): LimitRule {
  return {
    name,
    axis,
    probability,
    combine: LIMIT_FIELDS.combine.default,
    constantM: limitM,
    ppm: LIMIT_FIELDS.proportion_ppm.default,
    distanceOffsetM: LIMIT_FIELDS.distance_offset_m.default,
    perRootKmM: LIMIT_FIELDS.per_root_km_m.default,
    floorM: null,
    capM: null,
  };
}
