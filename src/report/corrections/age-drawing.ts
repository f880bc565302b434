import { largestOf } from '../../core/numeric/extremes.js';
import type { LinkOutage, LinkReport } from '../../records/corrections/link-report.js';
import { label, linePath } from '../figures/figure.js';
import type { DrawingContent } from '../figures/figure.js';
import { plotFrame } from '../figures/plot-frame.js';
import { linearScale } from '../figures/scales.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at, fixed } from '../page/words/numbers.js';
import { timeAxis } from '../figures/time-axis.js';

const WIDTH = 760;
const BOX = { left: 58, top: 26, right: 690, bottom: 196 };
const MINUTE_MS = 60_000;
/** A mark is not narrower than this. */
const LEAST_WIDE = 1.5;
const LETTER = 6.2;

/** The age of the corrections minute by minute, from its least to its largest, with the limit and the outages by their numbers. Null: no times. */
export function ageDrawing(
  id: string,
  link: LinkReport,
  numbered: readonly { readonly outage: LinkOutage; readonly number: number }[],
): DrawingContent | null {
  const { minutes, limitS } = link;
  if (minutes.listed.length === 0) return null;
  const axis = timeAxis(
    minutes.listed.flatMap(({ fromMs }) => [fromMs, fromMs + MINUTE_MS]),
    [BOX.left, BOX.right],
  );
  const most =
    1.08 *
    largestOf(
      minutes.listed.flatMap(({ largestAgeS }) => largestAgeS ?? []),
      1.25 * limitS,
    );
  const up = linearScale([0, most], [BOX.bottom, BOX.top], 5);
  const bars = (isBad: boolean): string =>
    minutes.listed.reduce((path, { fromMs, bad, leastAgeS, largestAgeS }) => {
      if (bad > 0 !== isBad || leastAgeS === null || largestAgeS === null) return path;
      const [top, low] = [up.to(largestAgeS), up.to(leastAgeS)];
      const x = at(axis.scale.to(fromMs + MINUTE_MS / 2));
      return `${path}M${x} ${at(top)}V${at(Math.max(low, top + LEAST_WIDE))}`;
    }, '');
  const limitY = up.to(limitS);
  return {
    id,
    title: 'Age of the corrections over time',
    description: `Each minute a line from the least to the largest age in seconds, red where an epoch of it was not fixed or too old; dashed: the limit of ${fixed(limitS, 1)} s; shaded and numbered: outages.`,
    width: WIDTH,
    height: BOX.bottom + 36,
    body: together([
      ...numbered.map(({ outage }) => shade(outage, axis.scale.to)),
      plotFrame(BOX, axis, { scale: up, title: 'age, s' }),
      linePath(`M${at(BOX.left)} ${at(limitY)}H${at(BOX.right)}`, 'limit'),
      label(BOX.right + 6, limitY + 3.5, `limit ${fixed(limitS, 1)} s`, 's q'),
      linePath(bars(false), 'blue'),
      linePath(bars(true), 'off'),
      ...numbersAbove(numbered, axis.scale.to),
    ]),
  };
}

function shade({ fromMs, toMs }: LinkOutage, across: (ms: number) => number): Markup {
  const left = across(fromMs);
  const wide = Math.max(2, across(toMs) - left);
  return markup`<rect class="gone" x="${at(left)}" y="${at(BOX.top)}" width="${at(wide)}" height="${at(BOX.bottom - BOX.top)}"/>`;
}

/** Numbers that would lie on one before them are left out: the table has all. */
function numbersAbove(
  numbered: readonly { readonly outage: LinkOutage; readonly number: number }[],
  across: (ms: number) => number,
): readonly Markup[] {
  const taken: (readonly [number, number])[] = [];
  return numbered.flatMap(({ outage, number }) => {
    const x = across((outage.fromMs + outage.toMs) / 2);
    const half = (LETTER * String(number).length) / 2 + 1;
    if (taken.some(([left, right]) => x + half > left && x - half < right)) return [];
    taken.push([x - half, x + half]);
    return [label(x, BOX.top - 5, String(number), 'm s')];
  });
}
