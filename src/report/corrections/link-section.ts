import { SIDE_WORDS } from '../../core/corrections/outage-side-words.js';
import type { DayLink, LinkOutage, LinkReport } from '../../records/corrections/link-report.js';
import { wideFigure } from '../figures/figure.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, dateAndTime, fixed } from '../page/words/numbers.js';
import { table } from '../page/table.js';
import { ageDrawing } from './age-drawing.js';
import { MAPPED_AGE_S, cellsDrawing } from './cells-drawing.js';
import { costTable, hoursTable, ofDay } from './link-tables.js';
import { longestFirst } from './outage-words.js';

const MOST_OUTAGES = 60;
/** Days of a job whose link is drawn; all stand in the table. */
const MOST_DAYS = 3;
const MOST_NAMES = 6;
/** Minutes with epochs below which ages are not drawn. */
const LEAST_MINUTES = 5;

/** What the link did, day by day, as the ages of the corrections show it. Given: the number of its first figure. */
export function linkSection(
  links: readonly DayLink[],
  firstFigure: number,
): { readonly body: Markup; readonly figures: number } {
  const troubled = links.length === 1 ? links : links.filter(({ link }) => hasTrouble(link));
  const weakest = troubled.toSorted((a, b) => lostShare(b.link) - lostShare(a.link)).slice(0, MOST_DAYS);
  const pieces: Markup[] = [];
  let figures = 0;
  if (links.length > 1) pieces.push(daysTable(links));
  for (const [index, { day, link }] of weakest.entries()) {
    const { body, count } = dayBody({ day, link }, firstFigure + figures, `link${String(index + 1)}`);
    pieces.push(body);
    figures += count;
  }
  if (troubled.length > weakest.length)
    pieces.push(
      markup`<p class="small">${String(weakest.length)} of ${String(troubled.length)} days with outages or epochs too old are shown, those that lost the largest share first.</p>`,
    );
  return { body: together(pieces), figures };
}

/** Whether anything is to be shown beyond a line of the table of days. */
function hasTrouble({ outages, cost, aboveLimit }: LinkReport): boolean {
  return outages.listed.length > 0 || aboveLimit > 0 || cost.rescuedPoints.length > 0;
}

function lostShare({ epochs, aboveLimit, notFixed }: LinkReport): number {
  return epochs === 0 ? 0 : (aboveLimit + notFixed) / epochs;
}

function dayBody(
  { day, link }: DayLink,
  firstFigure: number,
  id: string,
): { readonly body: Markup; readonly count: number } {
  const ordered = longestFirst(link.outages.listed);
  const numbered = ordered.slice(0, MOST_OUTAGES).map((outage, index) => ({ outage, number: index + 1 }));
  // A few minutes of a long day would be an all but empty figure; the words beside it say them.
  const ages =
    link.minutes.listed.length < LEAST_MINUTES && numbered.length === 0
      ? null
      : ageDrawing(`${id}-ages`, link, numbered);
  const cells = cellsDrawing(`${id}-cells`, link, numbered);
  const drawings = [
    ...(ages === null
      ? []
      : [
          {
            content: ages,
            caption: markup`Age of the corrections, from the least to the largest of each minute; red: a minute in which an epoch was not fixed or older than ${fixed(link.limitS, 1)} s. Shaded: outages by the numbers of their table.${leftOut(link.minutes.leftOut, 'minute')}`,
          },
        ]),
    ...(cells === null
      ? []
      : [
          {
            content: cells.content,
            caption: markup`Where corrections came in time: squares of 100 m, the stronger their tint the smaller the share of epochs with corrections of at most ${String(MAPPED_AGE_S)} s; diamonds: where outages began. Metres on the ground from the first cell, north is true north; a map to find a place by, not to measure in.${cells.drawn < cells.all ? ` ${String(cells.drawn)} of ${String(cells.all)} cells are drawn, the worst first.` : ''}`,
          },
        ]),
  ];
  const body = together([
    ...(day === null ? [] : [markup`<h3>Day ${named(day)}</h3>`]),
    factsOf(link),
    ...drawings.map(({ content, caption }, index) => wideFigure(content, firstFigure + index, caption)),
    outagesTable(link, numbered, day),
    hoursTable(link, day),
    costTable(link, day),
  ]);
  return { body, count: drawings.length };
}

function factsOf(link: LinkReport): Markup {
  const { resets, cost, epochs, withAge, notFixed } = link;
  const latency =
    resets.meanTroughS === null
      ? 'The age never fell, so that no latency is seen.'
      : `Fresh corrections came ${String(resets.count)} times, ${fixed(resets.meanTroughS, 1)} s old when they came (the latency of the link) and ${fixed(resets.meanPeakS, 1)} s old when the next did${resets.usualIntervalS === null ? '' : `, each ${fixed(resets.usualIntervalS, 1)} s as a rule`}.`;
  const lost =
    cost.lostEpochs === 0
      ? `No epoch is older than ${fixed(link.limitS, 1)} s${link.isLimitAssumed ? ', the usual limit; none is set' : ''}.`
      : `${counted(cost.lostEpochs, 'epoch')} older than ${fixed(link.limitS, 1)} s ${link.isLimitAssumed ? 'would be lost to the usual limit; none is set.' : cost.lostEpochs === 1 ? 'was lost.' : 'were lost.'}`;
  return markup`<p>${counted(epochs, 'epoch')}, ${String(withAge)} with an age, ${String(notFixed)} not fixed. Age ${fixed(link.leastAgeS, 1)} to ${fixed(link.largestAgeS, 1)} s, mean ${fixed(link.meanAgeS, 1)} s. ${latency}</p>
<p>${lost}${namesOf(cost.lostPoints, ' Nothing is left of')}${namesOf(cost.rescuedPoints, ' With ages of at most 2 s these would pass too:')} Age is taken to add ${fixed(1000 * cost.ageRateMPerS, 2)} mm a second to one sigma of each axis.</p>`;
}

function namesOf(names: readonly string[], before: string): Markup {
  if (names.length === 0) return { html: '' };
  const more = names.length - MOST_NAMES;
  const shown = names.slice(0, MOST_NAMES).map((name, index) => markup`${index === 0 ? ' ' : ', '}${named(name)}`);
  return markup`${before}${shown}${more > 0 ? ` and ${String(more)} more` : ''}.`;
}

function leftOut(count: number, word: string): string {
  return count === 0 ? '' : ` ${counted(count, word)} more ${count === 1 ? 'is' : 'are'} left out.`;
}

function daysTable(links: readonly DayLink[]): Markup {
  return table({
    label: 'The link day by day',
    caption: markup`<b>The link day by day.</b>`,
    columns: [
      { head: 'Day', kind: 'words' },
      { head: 'Epochs', kind: 'number' },
      { head: 'Not fixed', kind: 'number' },
      { head: 'Mean age', unit: 's', kind: 'number' },
      { head: 'Latency', unit: 's', kind: 'number' },
      { head: 'Outages', kind: 'number' },
      { head: 'Longest', unit: 's', kind: 'number' },
      { head: 'Epochs too old', kind: 'number' },
      { head: 'Points lost', kind: 'number' },
    ],
    rows: links.map(({ day, link }) => {
      const [longest] = longestFirst(link.outages.listed);
      return [
        named(day ?? 'the run'),
        String(link.epochs),
        String(link.notFixed),
        fixed(link.meanAgeS, 1),
        fixed(link.resets.meanTroughS, 1),
        String(link.outages.listed.length + link.outages.leftOut),
        longest === undefined ? fixed(null, 1) : fixed((longest.toMs - longest.fromMs) / 1000, 1),
        String(link.cost.lostEpochs),
        String(link.cost.lostPoints.length),
      ];
    }),
  });
}

function outagesTable(
  { outages }: LinkReport,
  numbered: readonly { readonly outage: LinkOutage; readonly number: number }[],
  day: string | null,
): Markup {
  const all = outages.listed.length + outages.leftOut;
  if (all === 0) return markup`<p>There was no outage of more than 5 s.</p>`;
  const few = numbered.length < all ? ` ${String(numbered.length)} of ${String(all)} are shown.` : '';
  return table({
    label: `Outages${ofDay(day)}`,
    caption: markup`<b>Outages${ofDay(day)}.</b> Stretches of more than 5 s that were not fixed or whose corrections were too old, the longest first.${few}`,
    columns: [
      { head: 'No.', kind: 'number' },
      { head: 'From', unit: 'UTC', kind: 'text' },
      { head: 'Length', unit: 's', kind: 'number' },
      { head: 'Age to', unit: 's', kind: 'number' },
      { head: 'Put down to', kind: 'prose' },
      { head: 'Points', kind: 'words' },
      { head: 'Latitude', unit: '°', kind: 'number' },
      { head: 'Longitude', unit: '°', kind: 'number' },
    ],
    rows: numbered.map(({ outage, number }) => [
      String(number),
      dateAndTime(outage.fromMs, 8),
      `${fixed((outage.toMs - outage.fromMs) / 1000, 1)}${outage.isEnded ? '' : ' and on'}`,
      fixed(outage.largestAgeS, 1),
      SIDE_WORDS[outage.side],
      pointsOf(outage),
      fixed(outage.latitudeDeg, 5),
      fixed(outage.longitudeDeg, 5),
    ]),
  });
}

function pointsOf({ points }: LinkOutage): Markup {
  const more = points.listed.length + points.leftOut - MOST_NAMES;
  const shown = points.listed
    .slice(0, MOST_NAMES)
    .map((name, index) => markup`${index === 0 ? '' : ', '}${named(name)}`);
  return markup`${shown}${more > 0 ? ` and ${String(more)} more` : ''}`;
}
