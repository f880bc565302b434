import { largestOf } from '../../../core/numeric/extremes.js';
import { label, linePath } from '../figure.js';
import type { DrawingContent } from '../figure.js';
import { together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at, decimalsOfStep, fixed } from '../../page/words/numbers.js';
import { limitWords } from '../../page/words/limit-words.js';
import { placeLabels, roomOf } from '../plan/place-labels.js';
import type { TakenPlace, WantedLabel } from '../plan/place-labels.js';
import { plotFrame } from '../plot-frame.js';
import type { PlotBox } from '../plot-frame.js';
import { linearScale, niceScale } from '../scales.js';
import type { Scale } from '../scales.js';
import { withSpread } from '../farthest-spread.js';
import { drawnMarks } from '../marks.js';
import { alongCurve, levelRoom, nought } from '../stroke-rooms.js';
import { polylinePath } from '../shapes.js';
import type { Place, SymbolName } from '../shapes.js';

export interface XyPoint {
  readonly x: number;
  readonly y: number;
  readonly name: string;
  /** Filled circle, open diamond, … : told apart without colour. */
  readonly symbol: SymbolName;
  readonly classes: 'mark' | 'doubt' | 'bad' | 'base';
  /** How sure it is, in the units of the axes: radius of a circle about it, or half of an upright bar. */
  readonly circle?: number | null;
  readonly bar?: number | null;
}

/** A curve or a limit, with a word at its end. */
export interface XyLine {
  readonly places: readonly { readonly x: number; readonly y: number }[];
  readonly classes: string;
  readonly word: string;
}

/** A level line right across, with a word above its end. */
export interface XyLimit {
  readonly y: number;
  readonly word: string;
}

export interface XyContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly acrossTitle: string;
  readonly upTitle: string;
  readonly points: readonly XyPoint[];
  readonly lines: readonly XyLine[];
  readonly limits?: readonly XyLimit[];
  readonly width: number;
  readonly height: number;
  /** Least span of the axes: 0 belongs to both. */
  readonly isEqualScale?: boolean;
  readonly from?: { readonly x?: number; readonly y?: number };
  /** Least reach of the axis across: no figure is of less. */
  readonly reachX?: number;
}

const LEFT = 58;
const BOTTOM = 42;
const TOP = 14;
const MOST_NAMES = 60;
/** Room of the title of the upright axis and about its numbers, and of one digit. */
const BESIDE_TICKS = 26;
const DIGIT = 6.4;
/** Room beyond the outermost value, as a share of the span, so that nothing lies on the frame. */
const MARGIN = 0.06;

/** Points and curves over two axes; the names of points stand where there is room. */
export function xyDrawing(content: XyContent): DrawingContent {
  const { id, title, description, points, lines, width, height } = content;
  // Absent: there are none.
  const limits = content.limits ?? [];
  const sure = withSpread(points);
  const all = [...points, ...lines.flatMap((line) => line.places), ...sure.flatMap(spreadEnds)];
  const spanX = spanOf(
    [...all.map(({ x }) => x), ...(content.reachX === undefined ? [] : [content.reachX])],
    content.from?.x ?? null,
  );
  const spanY = spanOf(
    [...all, ...limits].map(({ y }) => y),
    content.from?.y ?? null,
  );
  const { box, across, up } = axesOf(content, spanX, spanY);
  const place = ({ x, y }: { readonly x: number; readonly y: number }): Place => ({ x: across.to(x), y: up.to(y) });
  const drawn = inOrder(points).map((point) => ({ point, at: place(point) }));
  const levels = limits.map(({ y, word }) => ({ y: up.to(y), word }));
  const page = { ...box, top: 0 };
  const spots = drawn.map((one) => one.at);
  const strokes = [...levels.map(({ y }) => y), ...nought(up)].map((y) => levelRoom(y, box));
  const curves = lines.flatMap(({ places }) => alongCurve(places.map(place)));
  const endWords = placeLabels(endsOf(lines, place), spots, page, [], [...strokes, ...curves]);
  const levelWords = limitWords(
    levels,
    [...spots, ...curves, ...sure.flatMap((point) => roomOfBar(point, place)), ...endWords.map(roomOf)],
    box,
  );
  const names = placeLabels(
    namesOf(drawn).slice(0, MOST_NAMES),
    [...spots, ...[...endWords, ...levelWords].map(roomOf)],
    page,
    [],
    [
      ...strokes,
      ...nought(across).map((x) => ({ x, y: (box.top + box.bottom) / 2, wide: 1, clear: (box.bottom - box.top) / 2 })),
    ],
  );
  const named = [...endWords, ...levelWords, ...names];
  return {
    id,
    title,
    description,
    width,
    height,
    body: together([
      plotFrame(
        box,
        { scale: across, title: content.acrossTitle, write: writer(across.step) },
        { scale: up, title: content.upTitle, write: writer(up.step) },
      ),
      noughts(across, up, box),
      ...lines.map((line) => linePath(polylinePath(line.places.map(place)), line.classes)),
      ...levels.map(({ y }) => linePath(`M${at(box.left)} ${at(y)}H${at(box.right)}`, 'off dash')),
      linePath(sure.map((point) => spreadPath(point, place)).join(''), 'spread'),
      drawnMarks(
        id,
        drawn.map(({ point: { symbol, classes }, at: spot }) => ({
          at: spot,
          symbol,
          classes,
          area: classes === 'bad' ? 60 : 36,
        })),
      ),
      ...named.map((one) => label(one.x, one.y, one.text, one.classes)),
    ]),
  };
}

/** Both axes, with room at the left for the longest number of the upright one beside its title. */
function axesOf(
  { width, height, from, isEqualScale }: XyContent,
  spanX: readonly [number, number],
  spanY: readonly [number, number],
): { readonly box: PlotBox; readonly across: Scale; readonly up: Scale } {
  const within = (left: number): { readonly box: PlotBox; readonly across: Scale; readonly up: Scale } => {
    const box = { left, top: TOP, right: width - 30, bottom: height - BOTTOM };
    const [rangeX, rangeY] = [[box.left, box.right] as const, [box.bottom, box.top] as const];
    if (isEqualScale !== true)
      return {
        box,
        across: roomyScale(spanX, from?.x ?? null, rangeX, 6),
        up: roomyScale(spanY, from?.y ?? null, rangeY, 5),
      };
    const [domainX, domainY] = equal(spanX, spanY, (box.right - box.left) / (box.bottom - box.top));
    return { box, across: linearScale(domainX, rangeX, 6), up: linearScale(domainY, rangeY, 5) };
  };
  const first = within(LEFT);
  const write = writer(first.up.step);
  const longest = largestOf(first.up.ticks.map((tick) => write(tick).length));
  const left = BESIDE_TICKS + DIGIT * longest;
  return left > LEFT ? within(left) : first;
}

/** The words of curves, at their ends. */
function endsOf(lines: readonly XyLine[], place: (of: { x: number; y: number }) => Place): readonly WantedLabel[] {
  return lines.flatMap(({ places, word }) => {
    const last = places[places.length - 1];
    return last === undefined || word === '' ? [] : [{ at: place(last), text: word, clear: 2 }];
  });
}

/** The room of an upright bar. */
function roomOfBar({ x, y, bar }: XyPoint, place: (of: { x: number; y: number }) => Place): readonly TakenPlace[] {
  if (bar == null) return [];
  const [low, high] = [place({ x, y: y - bar }), place({ x, y: y + bar })];
  return [{ x: low.x, y: (low.y + high.y) / 2, clear: (low.y - high.y) / 2, wide: 3 }];
}

/** Names that are wanted: of those that fail first, the farthest out before others; marks on one spot have one. */
function namesOf(drawn: readonly { readonly point: XyPoint; readonly at: Place }[]): readonly WantedLabel[] {
  return drawn
    .filter(({ point }) => point.name !== '')
    .toSorted(
      (a, b) => NAMED_BEFORE[a.point.classes] - NAMED_BEFORE[b.point.classes] || sizeOf(b.point) - sizeOf(a.point),
    )
    .map(({ point, at: spot }) => ({ at: spot, text: point.name, clear: 5 }))
    .filter(
      ({ at: spot, text }, index, list) =>
        index === list.findIndex((other) => other.text === text && isNear(other.at, spot)),
    );
}

const SAME_SPOT_PX = 3;

function isNear(a: Place, b: Place): boolean {
  return Math.abs(a.x - b.x) < SAME_SPOT_PX && Math.abs(a.y - b.y) < SAME_SPOT_PX;
}

/** What needs a look is drawn last, so that nothing covers it. */
function inOrder(points: readonly XyPoint[]): readonly XyPoint[] {
  return [...points.filter(({ classes }) => classes !== 'bad'), ...points.filter(({ classes }) => classes === 'bad')];
}

/** The lines of nought, where they are inside. */
function noughts(across: Scale, up: Scale, { left, right, top, bottom }: PlotBox): Markup {
  return together([
    ...nought(across).map((x) => linePath(`M${at(x)} ${at(top)}V${at(bottom)}`, 'axis')),
    ...nought(up).map((y) => linePath(`M${at(left)} ${at(y)}H${at(right)}`, 'axis')),
  ]);
}

/** Those that fail are named first, then those in doubt; of each the farthest out. */
const NAMED_BEFORE: Readonly<Record<XyPoint['classes'], number>> = { bad: 0, doubt: 1, base: 2, mark: 3 };

function sizeOf({ x, y }: XyPoint): number {
  return Math.hypot(x, y);
}

/** What of how sure a point is belongs into the figure. */
function spreadEnds({ x, y, circle, bar }: XyPoint): readonly { readonly x: number; readonly y: number }[] {
  const ends = (across: number, up: number): readonly { readonly x: number; readonly y: number }[] => [
    { x: x - across, y: y - up },
    { x: x + across, y: y + up },
  ];
  return [...(circle == null ? [] : ends(circle, circle)), ...(bar == null ? [] : ends(0, bar))];
}

function spreadPath({ x, y, circle, bar }: XyPoint, place: (of: { x: number; y: number }) => Place): string {
  const middle = place({ x, y });
  let path = '';
  if (circle != null) {
    const [rx, ry] = [place({ x: x + circle, y }).x - middle.x, middle.y - place({ x, y: y + circle }).y];
    path += `M${at(middle.x - rx)} ${at(middle.y)}a${at(rx)} ${at(ry)} 0 1 0 ${at(2 * rx)} 0a${at(rx)} ${at(ry)} 0 1 0 ${at(-2 * rx)} 0`;
  }
  if (bar != null) path += `M${at(middle.x)} ${at(place({ x, y: y - bar }).y)}V${at(place({ x, y: y + bar }).y)}`;
  return path;
}

function writer(step: number): (value: number) => string {
  const decimals = decimalsOfStep(step);
  return (value) => fixed(value, decimals);
}

function spanOf(values: readonly number[], from: number | null): readonly [number, number] {
  let low = from ?? Infinity;
  let high = from ?? -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (low > high) return [0, 1];
  if (low === high) return [low - 1, high + 1];
  return [low, high];
}

/** A scale of round values beyond the domain, where nothing but `from` lies on the frame. */
function roomyScale(
  [low, high]: readonly [number, number],
  from: number | null,
  range: readonly [number, number],
  about: number,
): Scale {
  const first = niceScale([low, high], range, about).domain;
  const room = MARGIN * (high - low);
  const least = (first[1] - first[0]) / 100;
  const down = low !== from && low - first[0] < least ? room : 0;
  const up = high !== from && first[1] - high < least ? room : 0;
  return niceScale([low - down, high + up], range, about);
}

/** Both spans about nought, as far as the larger needs. */
function equal(
  x: readonly [number, number],
  y: readonly [number, number],
  ratio: number,
): readonly [readonly [number, number], readonly [number, number]] {
  const half = 1.05 * Math.max(-x[0] / ratio, x[1] / ratio, -y[0], y[1]);
  return [
    [-half * ratio, half * ratio],
    [-half, half],
  ];
}
