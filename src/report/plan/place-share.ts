import type { PlanReportTarget } from '../../records/reports/plan-report.js';

/** How much of its tolerances a place uses up, and in which axis most; 0 without a tolerance. */
export interface PlaceShare {
  readonly share: number;
  readonly axis: 'plan' | 'height';
}

/** The larger share of the two axes: predicted 95 % over tolerance; beyond 1 the place is outside. */
export function placeShare(target: PlanReportTarget): PlaceShare {
  const plan = shareOf(target.circle95M, target.toleranceHorizontalM);
  const height = shareOf(target.vertical95M, target.toleranceVerticalM);
  return height > plan ? { share: height, axis: 'height' } : { share: plan, axis: 'plan' };
}

function shareOf(figureM: number, toleranceM: number | null): number {
  return toleranceM === null || toleranceM <= 0 ? 0 : figureM / toleranceM;
}

/** Shares that differ by less are one: a free base is as far from two or three places, but for the last digits. */
const ALIKE = 1e-9;

/** Places with their shares, the largest first; equal ones in their order. */
export function byShare<T extends PlanReportTarget>(targets: readonly T[]): readonly T[] {
  const steps = (target: T): number => Math.round(placeShare(target).share / ALIKE);
  return [...targets].sort((a, b) => steps(b) - steps(a));
}
