import { isWithin } from '../../core/planning/is-within.js';
import { ALL_CONDITIONS } from '../../core/planning/prediction.js';
import { compensatedSum } from '../../core/numeric/compensated-sum.js';
import type { Conditions } from '../../records/session.js';
import type { PlannedTarget, WayOut } from './targets/predict-targets.js';

/** One base's part of a plan. */
export interface BaseTotals {
  targets: number;
  outside: number;
  farthestM: number;
  farthestId: string;
}

/** What a plan adds up to, target by target. */
export interface PlanTotals {
  readonly add: (planned: PlannedTarget) => void;
  readonly targets: () => number;
  readonly outside: () => number;
  /** Points and, apart from them, places on lines and in areas. */
  readonly workPoints: () => number;
  readonly withinBy: ReadonlyMap<Conditions, number>;
  readonly ways: ReadonlyMap<WayOut, number>;
  /** Targets outside by the axis that is. */
  readonly reasons: ReadonlyMap<'horizontal' | 'vertical', number>;
  readonly bases: ReadonlyMap<string, BaseTotals>;
  readonly withoutHeight: () => number;
  readonly meanBaselineM: () => number;
  /** The farthest targets of those outside, at most five, worst excess first. */
  readonly worst: () => readonly PlannedTarget[];
  readonly longestBaselineM: () => number;
  readonly reobserve: () => number;
}

const WORST_SHOWN = 5;

/** How far beyond its tolerances a target is predicted, as the larger ratio of figure to tolerance. */
export function excessRatio({ at, target }: PlannedTarget): number {
  const horizontal = target.toleranceHorizontalM === null ? 0 : at.uncertainty.circle95M / target.toleranceHorizontalM;
  const vertical = target.toleranceVerticalM === null ? 0 : at.uncertainty.vertical95M / target.toleranceVerticalM;
  return Math.max(horizontal, vertical);
}

/** A free base is as far from two or three places, but for the last digits: distances nearer to each other than this are alike, and the first in the file is named. */
const ALIKE_M = 1e-4;
/** Ratios that differ by less are alike likewise. */
const ALIKE_RATIO = 1e-9;

function comparable(planned: PlannedTarget): number {
  return Math.round(excessRatio(planned) / ALIKE_RATIO);
}

/** Totals of nothing yet. */
export function createPlanTotals(): PlanTotals {
  const withinBy = new Map<Conditions, number>(ALL_CONDITIONS.map((conditions) => [conditions, 0]));
  const ways = new Map<WayOut, number>();
  const reasons = new Map<'horizontal' | 'vertical', number>();
  const bases = new Map<string, BaseTotals>();
  const baselines: number[] = [];
  let worst: PlannedTarget[] = [];
  let outside = 0;
  let workPoints = 0;
  let withoutHeight = 0;
  let reobserve = 0;
  return {
    withinBy,
    ways,
    reasons,
    bases,
    add(planned) {
      const { target, prediction, base, verdict } = planned;
      baselines.push(prediction.baselineM);
      if (target.kind === 'point') workPoints += 1;
      if (prediction.heightDifferenceM === null) withoutHeight += 1;
      if (planned.effect?.judgement === 'reobserve') reobserve += 1;
      for (const at of prediction.byConditions)
        if (isWithin(at)) withinBy.set(at.conditions, (withinBy.get(at.conditions) ?? 0) + 1);
      const own = bases.get(base.id) ?? { targets: 0, outside: 0, farthestM: -1, farthestId: '' };
      bases.set(base.id, own);
      own.targets += 1;
      if (prediction.baselineM > own.farthestM + ALIKE_M) {
        own.farthestM = prediction.baselineM;
        own.farthestId = target.id;
      }
      if (verdict === 'within') return;
      outside += 1;
      for (const axis of ['horizontal', 'vertical'] as const)
        if (planned.at[axis] === 'outside') reasons.set(axis, (reasons.get(axis) ?? 0) + 1);
      own.outside += 1;
      ways.set(planned.wayOut, (ways.get(planned.wayOut) ?? 0) + 1);
      worst = [...worst, planned].sort((a, b) => comparable(b) - comparable(a)).slice(0, WORST_SHOWN);
    },
    targets: () => baselines.length,
    outside: () => outside,
    workPoints: () => workPoints,
    withoutHeight: () => withoutHeight,
    reobserve: () => reobserve,
    worst: () => worst,
    meanBaselineM: () => (baselines.length === 0 ? 0 : compensatedSum(baselines) / baselines.length),
    longestBaselineM: () => baselines.reduce((most, value) => Math.max(most, value), 0),
  };
}
