import { SIDE_WORDS } from '../../../../core/corrections/outage-side-words.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { formatUtc } from '../../../../core/numeric/text/utc-text.js';
import type { Availability, LinkOutage, LinkReport } from '../../../../records/corrections/link-report.js';
import { visibleText } from '../../../shell/messages/visible-text.js';

/** Rows of a list that a person reads; every format holds them all. */
const SHOWN = 12;

/** The link of a day, as lines for people. */
export function linkText(link: LinkReport): readonly string[] {
  const { resets, cost, outages, hours, cells } = link;
  return [
    '',
    'the link, by the age of the corrections',
    `  ${String(link.epochs)} epochs, ${String(link.withAge)} with an age, ${String(link.notFixed)} not fixed`,
    `  age ${seconds(link.leastAgeS)} to ${seconds(link.largestAgeS)}, mean ${seconds(link.meanAgeS)}; above ${formatFixed(link.limitS, 1)} s ${String(link.aboveLimit)} epochs`,
    resets.count === 0
      ? '  the age never fell: no latency is seen'
      : `  ${String(resets.count)} times fresh corrections came: just before ${seconds(resets.meanPeakS)} old, just after ${seconds(resets.meanTroughS)} (the latency)${resets.usualIntervalS === null ? '' : `, each ${seconds(resets.usualIntervalS)}`}`,
    `  outages: ${String(outages.listed.length + outages.leftOut)}`,
    ...outages.listed.slice(0, SHOWN).map(outageText),
    ...more(outages.listed.length),
    '  epochs with corrections of at most 2, 5 and 10 s, with the 95 % interval by Wilson',
    ...hours.slice(0, SHOWN).map((hour) => `    ${formatUtc(hour.fromMs).slice(0, 13)}h  ${sharesText(hour)}`),
    ...more(hours.length),
    `    ${String(cells.listed.length)} cells of 100 m; the worst: ${worstCell(link)}`,
    `  ${link.isLimitAssumed ? 'would be lost to the usual limit, since none is set' : 'lost to the limit'}: ${String(cost.lostEpochs)} epochs${cost.lostPoints.length === 0 ? ', no point whole' : `, and the points ${cost.lostPoints.slice(0, SHOWN).map(visibleText).join(', ')}`}`,
    `  at ${formatFixed(cost.ageRateMPerS * 1000, 2)} mm a second of age: ${sigmaText(link)}`,
    `  with ages of at most 2 s ${String(cost.rescuedPoints.length)} more points would pass${cost.rescuedPoints.length === 0 ? '' : `: ${cost.rescuedPoints.slice(0, SHOWN).map(visibleText).join(', ')}`}`,
  ];
}

function outageText({ fromMs, toMs, side, points, largestAgeS, isEnded }: LinkOutage): string {
  const names = points.listed.slice(0, 4).map(visibleText).join(', ');
  return `    ${formatUtc(fromMs)} for ${formatFixed((toMs - fromMs) / 1000, 1)} s${isEnded ? '' : ' and on'}: ${SIDE_WORDS[side]}; age to ${seconds(largestAgeS)}; ${names}${points.listed.length + points.leftOut > 4 ? ' and more' : ''}`;
}

function sharesText({ epochs, shares }: Availability): string {
  const texts = shares.map(({ share, low, high }) => `${percent(share)} (${percent(low)} to ${percent(high)})`);
  return `${texts.join('  ')}  of ${String(epochs)}`;
}

function worstCell({ cells: { listed } }: LinkReport): string {
  const shareOf = (cell: Availability): number => cell.shares.at(-1)?.share ?? 1;
  const [first] = listed;
  if (first === undefined) return 'none';
  const worst = listed.reduce((best, cell) => (shareOf(cell) < shareOf(best) ? cell : best), first);
  return `${formatFixed(worst.southDeg, 5)}, ${formatFixed(worst.westDeg, 5)}: ${sharesText(worst)}`;
}

/** The point whose sigma age raised most. */
function sigmaText({ cost }: LinkReport): string {
  const raised = cost.points.listed.flatMap(({ pointId, sigmaHorizontalM: plain, sigmaHorizontalAgedM: aged }) =>
    plain === null || aged === null ? [] : [{ pointId, plain, aged }],
  );
  const [first] = raised;
  if (first === undefined) return 'no sigma, since no base is known';
  const most = raised.reduce((best, own) => (own.aged - own.plain > best.aged - best.plain ? own : best), first);
  return `most at ${visibleText(most.pointId)}, where the sigma of an axis in plan goes from ${formatFixed(most.plain * 1000, 1)} to ${formatFixed(most.aged * 1000, 1)} mm`;
}

function more(count: number): readonly string[] {
  return count > SHOWN ? [`    and ${String(count - SHOWN)} more`] : [];
}

function seconds(value: number | null): string {
  return value === null ? '–' : `${formatFixed(value, 1)} s`;
}

function percent(share: number): string {
  return `${formatFixed(100 * share, 1)} %`;
}
