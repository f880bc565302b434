import { largestOf } from '../../core/numeric/extremes.js';
import type { DrawnSky, SkyReport } from '../../records/reports/sky-report.js';
import type { SiteSky, SkyEpoch } from '../../records/sky/site-sky.js';
import { label, linePath } from '../figures/figure.js';
import type { DrawingContent } from '../figures/figure.js';
import { plotFrame } from '../figures/plot-frame.js';
import type { PlotAxis, PlotBox } from '../figures/plot-frame.js';
import { linearScale } from '../figures/scales.js';
import type { Scale } from '../figures/scales.js';
import { timeAxis } from '../figures/time-axis.js';
import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at, fixed } from '../page/words/numbers.js';
import { skyPlot } from './sky-plot.js';

const WIDTH = 760;
const HEIGHT = 330;
const CIRCLE = { x: 158, y: 158, radius: 132 };
const COUNTS = { left: 368, top: 14, right: 706, bottom: 136 };
const DILUTIONS = { left: 368, top: 166, right: 706, bottom: 288 };
/** PDOP beyond so many times the limit is drawn at the top. */
export const MOST_LIMITS = 2.5;

/** The sky of a site over its head, and beside it how many satellites both ends see and with what PDOP over the time planned. */
export function siteDrawing(id: string, { sky, sights }: DrawnSky, report: SkyReport): DrawingContent {
  const { limits, elevationMaskDeg, times } = report;
  const axis = timeAxis([times.fromMs, times.toMs], [COUNTS.left, COUNTS.right]);
  const most =
    largestOf(
      sky.epochs.map(({ satellites }) => satellites),
      limits.satellites,
    ) + 2;
  const counts = linearScale([0, most], [COUNTS.bottom, COUNTS.top], 5);
  const top = MOST_LIMITS * limits.pdop;
  const dilutions = linearScale([0, top], [DILUTIONS.bottom, DILUTIONS.top], 5);
  return {
    id,
    title: `The sky at ${sky.site.id}`,
    description: `Left the sky with north up and east to the right, the zenith in the middle and the horizon outside: the ways of the satellites, thin where a mask hides them; shaded: what the skyline hides. Right, over time, the number of satellites and the PDOP with their limits; shaded in each: where its limit is missed.`,
    width: WIDTH,
    height: HEIGHT,
    body: together([
      skyPlot(sky.site, sights, elevationMaskDeg, CIRCLE),
      ...missed(sky, axis.scale, COUNTS, ({ satellites }) => satellites < limits.satellites),
      ...missed(sky, axis.scale, DILUTIONS, ({ dilution }) => dilution === null || dilution.pdop > limits.pdop),
      plotFrame(COUNTS, { ...axis, title: '' }, { scale: counts, title: 'satellites' }),
      limitLine(COUNTS, counts.to(limits.satellites), String(limits.satellites)),
      linePath(
        stairs(sky.epochs, axis, (epoch) => counts.to(epoch.satellites)),
        'blue',
      ),
      plotFrame(DILUTIONS, axis, { scale: dilutions, title: 'PDOP' }),
      limitLine(DILUTIONS, dilutions.to(limits.pdop), fixed(limits.pdop, 1)),
      linePath(
        stairs(sky.epochs, axis, ({ dilution }) =>
          dilution === null ? null : dilutions.to(Math.min(top, dilution.pdop)),
        ),
        'blue',
      ),
    ]),
  };
}

/** When the limit of a panel is missed, shaded: from each instant that misses it to the next. */
function missed(
  { epochs }: SiteSky,
  across: Scale,
  box: PlotBox,
  misses: (epoch: SkyEpoch) => boolean,
): readonly Markup[] {
  const spans: { fromMs: number; toMs: number }[] = [];
  for (const [index, epoch] of epochs.entries()) {
    if (!misses(epoch)) continue;
    // The last instant has none after it.
    const toMs = epochs[index + 1]?.utcMs ?? epoch.utcMs;
    const last = spans.at(-1);
    if (last?.toMs === epoch.utcMs) last.toMs = toMs;
    else spans.push({ fromMs: epoch.utcMs, toMs });
  }
  return spans.map(({ fromMs, toMs }) => {
    const left = across.to(fromMs);
    return markup`<rect class="gone" x="${at(left)}" y="${at(box.top)}" width="${at(Math.max(1, across.to(toMs) - left))}" height="${at(box.bottom - box.top)}"/>`;
  });
}

function limitLine(box: PlotBox, y: number, text: string): Markup {
  return together([
    linePath(`M${at(box.left)} ${at(y)}H${at(box.right)}`, 'limit'),
    label(box.right + 5, y + 3.5, `limit ${text}`, 's q'),
  ]);
}

/** A line from instant to instant, with a gap where there is no value. */
function stairs(epochs: readonly SkyEpoch[], axis: PlotAxis, place: (epoch: SkyEpoch) => number | null): string {
  let path = '';
  let isOpen = false;
  for (const epoch of epochs) {
    const y = place(epoch);
    if (y !== null) path += `${isOpen ? 'L' : 'M'}${at(axis.scale.to(epoch.utcMs))} ${at(y)}`;
    isOpen = y !== null;
  }
  return path;
}
