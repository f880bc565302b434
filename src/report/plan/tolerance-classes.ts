import type { SymbolName } from '../figures/shapes.js';
import type { PlanReport, PlanReportTarget } from '../../records/reports/plan-report.js';

/** A pair of tolerances that places of a plan have, as a map shows it. */
export interface ToleranceClass {
  readonly letter: string;
  readonly symbol: SymbolName;
  readonly horizontalM: number | null;
  readonly verticalM: number | null;
}

/** More pairs than a reader tells apart share the last sign. */
const SIGNS: readonly (readonly [string, SymbolName])[] = [
  ['A', 'circle'],
  ['B', 'square'],
  ['C', 'diamond'],
  ['D', 'cross'],
];

/** The pairs of tolerances of a plan, the one that reaches least first; those beyond the fourth are not among them. */
export function toleranceClasses({ tolerances }: Pick<PlanReport, 'tolerances'>): readonly ToleranceClass[] {
  return tolerances.flatMap(({ horizontalM, verticalM }, index) => {
    const sign = SIGNS[index];
    return sign === undefined ? [] : [{ letter: sign[0], symbol: sign[1], horizontalM, verticalM }];
  });
}

/** The class of a place; null: of none of those that are told apart. */
export function classOfPlace(
  { toleranceHorizontalM, toleranceVerticalM }: PlanReportTarget,
  classes: readonly ToleranceClass[],
): ToleranceClass | null {
  const own = classes.find(
    ({ horizontalM, verticalM }) => horizontalM === toleranceHorizontalM && verticalM === toleranceVerticalM,
  );
  return own ?? null;
}

/** `A (circle) 0.02 m in plan and 0.05 m in height` … */
export function classWords(classes: readonly ToleranceClass[]): string {
  return classes
    .map(({ letter, symbol, horizontalM, verticalM }) => `${letter} (${symbol}) ${pairWords(horizontalM, verticalM)}`)
    .join('; ');
}

/** `0.02 m in plan and 0.05 m in height`. */
export function pairWords(horizontalM: number | null, verticalM: number | null): string {
  const words = [
    horizontalM === null ? '' : `${String(horizontalM)} m in plan`,
    verticalM === null ? '' : `${String(verticalM)} m in height`,
  ].filter((text) => text !== '');
  return words.length === 0 ? 'no tolerance' : words.join(' and ');
}
