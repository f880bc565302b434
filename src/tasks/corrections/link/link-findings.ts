import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../core/numeric/text/utc-text.js';
import type { LinkOutage, LinkReport } from '../../../records/corrections/link-report.js';
import { warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** Names that stand in a sentence. */
const MOST_NAMED = 5;

/** What is to be known of the link: outages by the side they are put down to, and what was lost to the limit. */
export function linkFindings({ outages, cost, limitS }: LinkReport): readonly Problem[] {
  const count = outages.listed.length + outages.leftOut;
  const [first] = outages.listed;
  const found: Problem[] = [];
  if (first !== undefined) {
    const longest = outages.listed.reduce((best, own) => (lengthOf(own) > lengthOf(best) ? own : best), first);
    const of = (side: LinkOutage['side']): number => outages.listed.filter((outage) => outage.side === side).length;
    found.push(
      warningProblem('link-outage', {
        message: `${String(count)} ${count === 1 ? 'outage' : 'outages'}, the longest ${formatFixed(lengthOf(longest) / 1000, 1)} s from ${formatUtc(longest.fromMs)}; base ${String(of('base'))}, rover ${String(of('rover'))}, with fresh corrections ${String(of('none'))}, not known ${String(of('unknown'))}`,
      }),
    );
  }
  if (cost.lostEpochs > 0) {
    const { lostPoints, rescuedPoints } = cost;
    found.push(
      warningProblem('link-age-cost', {
        message: `${String(cost.lostEpochs)} ${cost.lostEpochs === 1 ? 'epoch' : 'epochs'} older than ${formatFixed(limitS, 1)} s${named(lostPoints, '; nothing is left of')}${named(rescuedPoints, '; would pass with fresh corrections:')}`,
      }),
    );
  }
  return found;
}

function named(points: readonly string[], before: string): string {
  if (points.length === 0) return '';
  const more = points.length > MOST_NAMED ? ` and ${String(points.length - MOST_NAMED)} more` : '';
  return `${before} ${points.slice(0, MOST_NAMED).join(', ')}${more}`;
}

function lengthOf({ fromMs, toMs }: LinkOutage): number {
  return toMs - fromMs;
}
