import { utcOfStream } from '../../core/corrections/stream-time-text.js';
import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import type { CorrectionAudit, SentMessages } from '../../records/corrections/correction-audit.js';
import { label, linePath } from '../figures/figure.js';
import type { DrawingContent } from '../figures/figure.js';
import { plotFrame } from '../figures/plot-frame.js';
import type { PlotAxis } from '../figures/plot-frame.js';
import { linearScale } from '../figures/scales.js';
import { together } from '../page/markup.js';
import { at } from '../page/words/numbers.js';
import { timeAxis } from '../figures/time-axis.js';

/** A drawing, and what its caption has to say of it. */
export interface MessageDrawing {
  readonly content: DrawingContent;
  readonly drawn: number;
  readonly all: number;
}

const WIDTH = 760;
const LEFT = 132;
const RIGHT = 690;
const TOP = 8;
const ROW = 16;
const MOST_ROWS = 30;
/** A mark is not narrower than this. */
const LEAST_WIDE = 1.5;

/** When each message came: a line where it came regularly, a thin one where it was due and stayed away. Null: no times are known. */
export function messageDrawing(id: string, { messages, calendar }: CorrectionAudit): MessageDrawing | null {
  const timed = messages.filter(({ firstMs, lastMs }) => firstMs !== null && lastMs !== null);
  const rows = [...timed]
    .sort((a, b) => b.bytes - a.bytes)
    .slice(0, MOST_ROWS)
    .sort((a, b) => (a.stationId ?? -1) - (b.stationId ?? -1) || a.number - b.number);
  if (rows.length === 0) return null;
  const place = (ms: number): number => utcOfStream(calendar, ms) ?? ms;
  const instants = rows.flatMap(({ firstMs, lastMs }) =>
    firstMs === null || lastMs === null ? [] : [place(firstMs), place(lastMs)],
  );
  const axis = calendar.zeroMs === null ? elapsedAxis(instants) : timeAxis(instants, [LEFT, RIGHT]);
  const bottom = TOP + rows.length * ROW;
  return {
    drawn: rows.length,
    all: messages.length,
    content: {
      id,
      title: 'When each message came',
      description:
        'A row for each message of each station over time: a thick line where it came at its usual interval, a thin red one where it was due and stayed away, nothing before its first and behind its last.',
      width: WIDTH,
      height: bottom + 36,
      body: together([
        plotFrame({ left: LEFT, top: TOP, right: RIGHT, bottom }, axis, null),
        ...rows.map((own, index) => row(own, TOP + (index + 0.5) * ROW, (ms) => axis.scale.to(place(ms)))),
      ]),
    },
  };
}

/** Of a stream whose date is not known. */
function elapsedAxis(instants: readonly number[]): PlotAxis {
  const [first, last] = [smallestOf(instants), largestOf(instants)];
  const lengthMs = Math.max(last - first, 1000);
  // Seconds below two minutes, minutes below two hours.
  const [unit, unitMs] =
    lengthMs < 120_000
      ? (['seconds', 1000] as const)
      : lengthMs < 7_200_000
        ? (['minutes', 60_000] as const)
        : (['hours', 3_600_000] as const);
  const scale = linearScale([0, lengthMs / unitMs], [LEFT, RIGHT], 7);
  return {
    scale: {
      ...scale,
      to: (ms) => scale.to((ms - first) / unitMs),
      ticks: scale.ticks.map((value) => value * unitMs + first),
    },
    title: `${unit} since the first message; the date is not known`,
    write: (ms) => String(Math.round(((ms - first) / unitMs) * 1000) / 1000),
  };
}

function row(own: SentMessages, y: number, across: (ms: number) => number): ReturnType<typeof together> {
  const { firstMs, lastMs, gaps, stationId, number } = own;
  const stations = stationId === null ? '' : `${String(stationId)}: `;
  let came = '';
  let missed = '';
  // Rows without a time are not drawn.
  let fromMs = firstMs ?? 0;
  for (const gap of [...gaps.listed, { fromMs: lastMs ?? fromMs, toMs: lastMs ?? fromMs }]) {
    const [left, right] = [across(fromMs), across(gap.fromMs)];
    came += `M${at(left)} ${at(y)}H${at(Math.max(right, left + LEAST_WIDE))}`;
    if (gap.toMs > gap.fromMs) missed += `M${at(right)} ${at(y)}H${at(across(gap.toMs))}`;
    fromMs = gap.toMs;
  }
  return together([
    label(LEFT - 8, y + 3.5, `${stations}${String(number)}`, 'e s'),
    linePath(came, 'dots'),
    linePath(missed, 'off'),
    label(RIGHT + 8, y + 3.5, gapWords(own), 's q'),
  ]);
}

function gapWords({ gaps }: SentMessages): string {
  const count = gaps.listed.length + gaps.leftOut;
  return count === 0 ? '' : count === 1 ? '1 gap' : `${String(count)} gaps`;
}
