import { largestOf } from '../../../core/numeric/extremes.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { ReducedPoint, UncertaintyParts } from '../../../records/points/reduced-point.js';
import type { ToleranceSettings } from '../../../records/session.js';
import { label, linePath } from '../figure.js';
import type { DrawingContent } from '../figure.js';
import { TINTS } from '../tints.js';
import { markup, together } from '../../page/markup.js';
import type { Markup } from '../../page/markup.js';
import { at } from '../../page/words/numbers.js';
import { plotFrame } from '../plot-frame.js';
import { linearScale } from '../scales.js';
import type { Scale } from '../scales.js';
import { shortText } from '../../page/words/visible-text.js';
import { entryAt } from '../../../records/present.js';

const WIDTH = 760;
const ROW = 17;
const TOP = 46;
const NAMES = 128;
const PANEL = 290;
/** Half of the word at a tolerance. */
const HALF_WORD = 27;
/** A letter has room in so wide a piece. */
const LETTER_PX = 9;
/** And a letter of a word so much. */
const WORD_PX = 5;

/** A part of the variance, its words and the filling it is drawn with. */
interface Part {
  readonly words: string;
  readonly of: (parts: UncertaintyParts) => LocalCovariance | null;
}

const PARTS: readonly Part[] = [
  { words: 'fast noise', of: (parts) => parts.noise },
  { words: 'slow, constant', of: (parts) => parts.correlated },
  { words: 'grows with baseline', of: (parts) => parts.baseline },
  { words: 'pole', of: (parts) => parts.pole },
  { words: 'base', of: (parts) => parts.base },
  { words: 'geoid (heights)', of: () => null },
  { words: 'age', of: (parts) => parts.age },
  { words: 'bend', of: (parts) => parts.bend },
];

/** For each point its two 95 % figures as bars, divided by each part's share of the variance. */
export function uncertaintyDrawing(
  id: string,
  points: readonly ReducedPoint[],
  tolerance: ToleranceSettings,
): DrawingContent {
  const height = TOP + points.length * ROW + 40;
  const ordered = leastSureFirst(points);
  const most = (of: (point: ReducedPoint) => number, limitM: number | null): number =>
    // What has no figure, or no limit, needs no room.
    1000 * largestOf(points.map(of), Math.max(0.001, (limitM ?? 0) * 1.05));
  const plan = linearScale(
    // What has no figure, or no limit, needs no room.
    [0, most((point) => point.summary?.circle95M ?? 0, tolerance.horizontalM)],
    [NAMES, NAMES + PANEL],
    5,
  );
  const heights = linearScale(
    // What has no figure, or no limit, needs no room.
    [0, most((point) => point.summary?.vertical95M ?? 0, tolerance.verticalM)],
    [NAMES + PANEL + 40, NAMES + 2 * PANEL + 40],
    5,
  );
  const bottom = TOP + points.length * ROW;
  const counts = new Map<string, number>();
  // The first of its name.
  for (const { pointId } of points) counts.set(pointId, (counts.get(pointId) ?? 0) + 1);
  return {
    id,
    title: 'Parts of the uncertainty of each point',
    description:
      'Two bars a point: radius of the 95 % circle in plan, and 95 % in height, in millimetres; the parts of a bar are shares of the variance.',
    width: WIDTH,
    height,
    body: together([
      legend(points),
      plotFrame(
        { left: NAMES, top: TOP, right: NAMES + PANEL, bottom },
        { scale: plan, title: '95 % radius in plan, mm' },
        null,
      ),
      plotFrame(
        { left: NAMES + PANEL + 40, top: TOP, right: NAMES + 2 * PANEL + 40, bottom },
        { scale: heights, title: '95 % in height, mm' },
        null,
      ),
      ...ordered.map((point, row) => rowOf(point, TOP + row * ROW, plan, heights, counts.get(point.pointId) === 1)),
      limitLine(plan, tolerance.horizontalM, bottom),
      limitLine(heights, tolerance.verticalM, bottom),
    ]),
  };
}

/** By the 95 % figure in plan, the largest first; equal ones in their order. */
function leastSureFirst(points: readonly ReducedPoint[]): readonly ReducedPoint[] {
  // What has no figure stands last.
  return [...points].sort((a, b) => (b.summary?.circle95M ?? 0) - (a.summary?.circle95M ?? 0));
}

/** The name alone of a point that stands once; else with its occupation, whose year every row would share. */
function nameOf({ pointId, occupation }: ReducedPoint, standsOnce: boolean): string {
  const parts = occupation.split('+').length;
  if (parts > 1) return `${shortText(pointId, 9)} (${String(parts)} joined)`;
  return standsOnce
    ? shortText(pointId, 18)
    : `${shortText(pointId, 9)} @${shortText(occupation.replaceAll(/\b\d{4}-(?=\d{2}-\d{2})/gu, ''), 9)}`;
}

function rowOf(point: ReducedPoint, y: number, plan: Scale, heights: Scale, standsOnce: boolean): Markup {
  const { summary, uncertainty } = point;
  if (summary === null || uncertainty === null) return { html: '' };
  const horizontal = PARTS.map((part) => part.of(uncertainty)).map((part) =>
    part === null ? 0 : part.eeM2 + part.nnM2,
  );
  const vertical = PARTS.map((part) => part.of(uncertainty)).map((part) =>
    // What has no figure, or no limit, needs no room.
    part === null ? (uncertainty.geoidVarianceM2 ?? 0) : part.uuM2,
  );
  return together([
    label(NAMES - 6, y + 12, nameOf(point, standsOnce), 'e s'),
    bar(horizontal, summary.circle95M, y, plan),
    bar(vertical, summary.vertical95M, y, heights),
  ]);
}

function bar(shares: readonly number[], lengthM: number, y: number, scale: Scale): Markup {
  const left = scale.to(0);
  const width = scale.to(lengthM * 1000) - left;
  const sum = shares.reduce((total, share) => total + share, 0);
  if (sum <= 0) return { html: '' };
  const pieces: Markup[] = [];
  let x = left;
  for (const [index, share] of shares.entries()) {
    const part = (width * share) / sum;
    if (part >= 0.3) pieces.push(tinted(index, { x, y: y + 3, width: part }, entryAt(PARTS, index).words));
    x += part;
  }
  return together(pieces);
}

/** A piece of a bar in the tint of its part, with the part's words or letter where there is room. */
function tinted(
  index: number,
  { x, y, width }: { readonly x: number; readonly y: number; readonly width: number },
  words: string,
): Markup {
  const { opacity, letter, isDark } = entryAt(TINTS, index);
  const box = markup`<rect class="tint" fill-opacity="${opacity}" x="${at(x)}" y="${at(y)}" width="${at(width)}" height="11"/>`;
  if (width < LETTER_PX) return box;
  // The part itself where it has room, else its letter.
  const text = words !== '' && width >= WORD_PX * words.length + 6 ? words : letter;
  return together([box, label(x + width / 2, y + 8.6, text, isDark ? 'm l on' : 'm l')]);
}

function limitLine(scale: Scale, limitM: number | null, bottom: number): Markup {
  if (limitM === null) return { html: '' };
  const x = scale.to(limitM * 1000);
  return markup`${linePath(`M${at(x)} ${at(TOP - 6)}V${at(bottom)}`, 'off dash')}${label(Math.max(Math.min(x, scale.to(scale.domain[1]) - HALF_WORD), scale.to(0) + HALF_WORD), TOP - 9, 'tolerance', 'm s halo')}`;
}

/** Whether any point has anything of this part. */
function occurs({ of }: Part, points: readonly ReducedPoint[]): boolean {
  return points.some(({ uncertainty }) => {
    const part = uncertainty === null ? null : of(uncertainty);
    return (
      uncertainty !== null &&
      (part === null ? uncertainty.geoidVarianceM2 !== null : part.eeM2 + part.nnM2 + part.uuM2 > 0)
    );
  });
}

function legend(points: readonly ReducedPoint[]): Markup {
  let x = 4;
  return together(
    PARTS.map((part, index) => {
      if (!occurs(part, points)) return { html: '' };
      const { words } = part;
      const piece = together([tinted(index, { x, y: 4, width: 20 }, ''), label(x + 25, 13.5, words, 's')]);
      x += 38 + 6 * words.length;
      return piece;
    }),
  );
}
