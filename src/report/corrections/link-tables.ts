import type { Availability, LinkReport, PointCost } from '../../records/corrections/link-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { dateAndTime, fixed, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

const MOST_HOURS = 72;
const MOST_POINTS = 200;
/** A tenth of the sigma. */
const LEAST_NEED = 0.1;

/** ` of day 2026-05-11`, so that no two tables of a page have one name. */
export function ofDay(day: string | null): string {
  return day === null ? '' : ` of day ${day}`;
}

/** Availability by the hour. */
export function hoursTable({ hours }: LinkReport, day: string | null): Markup {
  if (hours.length === 0) return { html: '' };
  const few = hours.length > MOST_HOURS ? ` ${String(MOST_HOURS)} of ${String(hours.length)} are shown.` : '';
  return table({
    label: `Availability by the hour${ofDay(day)}`,
    caption: markup`<b>Availability by the hour${ofDay(day)}.</b> Share of epochs with corrections of at most 2, 5 and 10 s, with the 95 % interval by Wilson. Epochs of one minute share their network, so that intervals of few minutes are too narrow.${few}`,
    columns: [
      { head: 'From', unit: 'UTC', kind: 'text' },
      { head: 'Epochs', kind: 'number' },
      { head: 'At most 2 s', unit: '%', kind: 'number' },
      { head: 'At most 5 s', unit: '%', kind: 'number' },
      { head: 'At most 10 s', unit: '%', kind: 'number' },
    ],
    rows: hours
      .slice(0, MOST_HOURS)
      .map((hour) => [dateAndTime(hour.fromMs, 5), String(hour.epochs), ...hour.shares.map(shareText)]),
  });
}

function shareText({ share, low, high }: Availability['shares'][number]): string {
  return `${fixed(100 * share, 1)} (${fixed(100 * low, 1)} to ${fixed(100 * high, 1)})`;
}

/** What age cost each point, those that it cost most first. */
export function costTable({ cost }: LinkReport, day: string | null): Markup {
  const touched = cost.points.listed.filter((own) => need(own) >= LEAST_NEED);
  const listed = touched.toSorted((a, b) => need(b) - need(a)).slice(0, MOST_POINTS);
  const all = cost.points.listed.length + cost.points.leftOut;
  const quiet = cost.points.listed.length - touched.length;
  if (listed.length === 0)
    return all === 0
      ? { html: '' }
      : markup`<p>Age raised the sigma of no point by as much as a tenth, and none was lost.</p>`;
  const few =
    listed.length < touched.length
      ? ` ${String(listed.length)} of ${String(touched.length)} are shown, those that it cost most first.`
      : '';
  return table({
    label: `What age cost each point${ofDay(day)}`,
    caption: markup`<b>What age cost each point${ofDay(day)}.</b> One sigma of an axis by the planning model, without and with the age of the epochs kept.${quiet === 0 ? '' : ` Of ${String(quiet)} others age raised sigma by less than a tenth, and cost nothing.`}${few}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Epochs', kind: 'number' },
      { head: 'Kept', kind: 'number' },
      { head: 'Too old', kind: 'number' },
      { head: 'Mean age', unit: 's', kind: 'number' },
      { head: 'Plan', unit: 'mm, fresh', kind: 'number' },
      { head: 'Plan', unit: 'mm, as it was', kind: 'number' },
      { head: 'Height', unit: 'mm, fresh', kind: 'number' },
      { head: 'Height', unit: 'mm, as it was', kind: 'number' },
      { head: 'Outcome', kind: 'prose' },
    ],
    rows: listed.map((own) => [
      named(own.pointId),
      String(own.epochs),
      String(own.kept),
      String(own.lost),
      fixed(own.meanAgeS, 1),
      millimetres(own.sigmaHorizontalM),
      millimetres(own.sigmaHorizontalAgedM),
      millimetres(own.sigmaVerticalM),
      millimetres(own.sigmaVerticalAgedM),
      outcomeOf(own),
    ]),
  });
}

/** What to look at first; below `LEAST_NEED` age cost nothing to speak of. */
function need({ kept, lost, passes, wouldPass, sigmaHorizontalM, sigmaHorizontalAgedM }: PointCost): number {
  if (!passes && wouldPass) return 5;
  if (kept === 0 && lost > 0) return 4;
  const grown =
    sigmaHorizontalM === null || sigmaHorizontalAgedM === null ? 0 : sigmaHorizontalAgedM / sigmaHorizontalM - 1;
  return Math.min(1, grown) + (lost > 0 ? 1 : 0);
}

function outcomeOf({ kept, lost, passes, wouldPass }: PointCost): string {
  if (kept === 0 && lost > 0) return wouldPass ? 'nothing is left; passes with fresh corrections' : 'nothing is left';
  if (passes) return 'passes by its age';
  return wouldPass ? 'passes with fresh corrections' : 'does not pass with fresh ones either';
}
