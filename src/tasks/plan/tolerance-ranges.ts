import { ALL_CONDITIONS } from '../../core/planning/prediction.js';
import type { Conditions } from '../../records/session.js';
import type { PlanSetup, PlanTarget } from './targets/plan-target.js';
import { createRangeFinder } from './targets/range-finder.js';
import type { PlanRange } from './targets/range-finder.js';

/** A pair of tolerances that occurs, and how far it reaches under each of the conditions at equal heights. */
export interface ToleranceRange {
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
  /** How many targets have it. */
  readonly targets: number;
  readonly byConditions: readonly { readonly conditions: Conditions; readonly range: PlanRange }[];
}

/** The different pairs of tolerances, shortest range under the judged conditions first. */
export function toleranceRanges(setup: PlanSetup, targets: readonly PlanTarget[]): readonly ToleranceRange[] {
  const finders = ALL_CONDITIONS.map((conditions) => ({
    conditions,
    finder: createRangeFinder(setup.prediction, conditions, false),
  }));
  const counts = new Map<string, { readonly target: PlanTarget; count: number }>();
  for (const target of targets) {
    const key = `${String(target.toleranceHorizontalM)} ${String(target.toleranceVerticalM)}`;
    const known = counts.get(key);
    if (known === undefined) counts.set(key, { target, count: 1 });
    else known.count += 1;
  }
  const found = [...counts.values()].map(({ target, count }): ToleranceRange => ({
    toleranceHorizontalM: target.toleranceHorizontalM,
    toleranceVerticalM: target.toleranceVerticalM,
    targets: count,
    byConditions: finders.map(({ conditions, finder }) => ({
      conditions,
      range: finder.at(target.toleranceHorizontalM, target.toleranceVerticalM, null),
    })),
  }));
  return found.sort((a, b) => judged(a, setup.conditions) - judged(b, setup.conditions));
}

/** The range of a pair of tolerances under one of the conditions, metres. */
export function judged({ byConditions }: ToleranceRange, conditions: Conditions): number {
  // Conditions that no range was found for reach nowhere.
  return byConditions.find((entry) => entry.conditions === conditions)?.range.rangeM ?? 0;
}
