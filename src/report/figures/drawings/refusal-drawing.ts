import { largestOf } from '../../../core/numeric/extremes.js';
import type { ReportTimeline } from '../../../records/reports/reduction-report.js';
import { label } from '../figure.js';
import type { DrawingContent } from '../figure.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { timeAxis } from '../time-axis.js';
import { plotFrame } from '../plot-frame.js';

const WIDTH = 760;
const LEFT = 182;
const RIGHT = 700;
const ROW = 30;

/** When epochs were used and when they were refused for each reason: bars in equal pieces of time. */
export function refusalDrawing(id: string, timeline: ReportTimeline): DrawingContent {
  const rows: readonly { readonly name: string; readonly counts: readonly number[] }[] = [
    { name: 'used', counts: timeline.used },
    ...timeline.refused.map(({ code, counts }) => ({ name: code, counts })),
  ];
  const bottom = 8 + rows.length * ROW;
  const endMs = timeline.startMs + timeline.used.length * timeline.binMs;
  const time = timeAxis([timeline.startMs, endMs], [LEFT, RIGHT]);
  return {
    id,
    title: 'Used and refused epochs over time',
    description:
      'One row of bars for the epochs used and one for each reason of refusal, over UTC; bars are counts in equal pieces of time, each row to its own largest count.',
    width: WIDTH,
    height: bottom + 36,
    body: together([
      plotFrame({ left: LEFT, top: 8, right: RIGHT, bottom }, time, null),
      ...rows.map(({ name, counts }, index) =>
        bars(name, counts, 8 + index * ROW, (RIGHT - LEFT) / timeline.used.length),
      ),
    ]),
  };
}

function bars(name: string, counts: readonly number[], top: number, width: number): Markup {
  const largest = largestOf(counts, 1);
  const total = counts.reduce((sum, count) => sum + count, 0);
  const floor = top + ROW - 3;
  let path = '';
  for (const [index, count] of counts.entries()) {
    if (count === 0) continue;
    const height = Math.max(1.5, ((ROW - 8) * count) / largest);
    path += `M${at(LEFT + index * width)} ${at(floor)}v-${at(height)}h${at(Math.max(1.2, width - 0.3))}v${at(height)}z`;
  }
  return together([
    label(LEFT - 8, floor - 4, name, 'e s'),
    markup`<path class="ink" d="${path}"/>`,
    markup`<path class="grid" d="M${at(LEFT)} ${at(floor)}H${at(RIGHT)}"/>`,
    label(RIGHT + 8, floor - 4, String(total), 's'),
  ]);
}
