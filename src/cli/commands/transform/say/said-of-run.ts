import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import type { TransformRun } from '../../../../tasks/transform/transform-run.js';
import { siteHeightLines } from '../../../../tasks/transform/written-heights.js';
import type { HeightsOfFile } from '../../../../tasks/transform/written-heights.js';

/** The lines on a run that went well: what went where, by what, and what came of it. */
export function saidOfRun(
  planned: PlannedTransform,
  count: number,
  heights: HeightsOfFile,
  lines: ReturnType<TransformRun['end']>['lines'],
): readonly string[] {
  return [
    `${String(count)} ${count === 1 ? 'point' : 'points'} ${wayInWords(planned)}`,
    ...planned.said,
    ...lines,
    ...siteHeightLines(planned, heights),
  ];
}

/** Where the points came from and went: `from A to B`. */
export function wayInWords({ from, to, end, isOwnSite }: PlannedTransform): string {
  if (end?.kind === 'site') {
    const side = end.at === 'out' ? from : to;
    const name = isOwnSite ? side.name : side.label;
    return end.at === 'out' ? `from ${name} onto the site` : `from the site back to ${name}`;
  }
  const ground = end?.kind !== 'ground' ? '' : end.at === 'out' ? ', on the ground' : ', from the ground';
  return `from ${from.label} to ${to.label}${ground}`;
}

/** What moved the points, for figures of trust that do not hold afterwards. */
export function moverInWords({ end, moves }: PlannedTransform): string {
  if (end?.kind === 'site') return 'the site';
  return moves === 'place' ? 'the operation' : 'the change of heights';
}
