import type { ReportAxis, ReportPlace } from '../../records/reports/reduction-report.js';
import { label, linePath } from './figure.js';
import type { DrawingContent } from './figure.js';
import { markup, together } from '../page/markup.js';
import { at } from '../page/numbers.js';
import { baseMark } from './plan-figure.js';
import { groundLength, northArrow, planFrame, scaleBar } from './plan-frame.js';
import { planView } from './plan-view.js';
import { placeLabels } from './place-labels.js';
import type { WantedLabel } from './place-labels.js';
import { roundBelow } from './scales.js';
import { polylinePath, symbolPath } from './shapes.js';
import type { Place, SymbolName } from './shapes.js';
import { spreadOut } from './spread-out.js';
import { shortText } from '../page/visible-text.js';
import { entryAt } from '../../records/present.js';

/** A residual in plan, along the axes of the system, at the place of its point. */
export interface ResidualVector {
  readonly place: ReportPlace;
  readonly name: string;
  /** Null: not compared in plan; the point stands alone. */
  readonly residual: ReportPlace | null;
  readonly symbol: SymbolName;
  readonly classes: 'mark' | 'doubt' | 'bad';
}

export interface ResidualPlanContent {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly axes: readonly [ReportAxis, ReportAxis];
  readonly bases: readonly { readonly id: string; readonly place: ReportPlace | null }[];
  readonly vectors: readonly ResidualVector[];
  /** Closed lines, such as the hull of control. */
  readonly outlines: readonly (readonly ReportPlace[])[];
}

export interface ResidualPlan {
  readonly drawing: DrawingContent;
  /** How many times larger than the ground vectors are drawn; null: none is drawn. */
  readonly exaggeration: number | null;
  readonly drawnCount: number;
}

const WIDTH = 760;
const MOST_VECTORS = 400;
const LONGEST_PX = 44;
/** Half of the last decimal that is printed: shorter residuals are the noise of arithmetic, and no arrow shows them. */
const LEAST_DRAWN_M = 5e-5;

/** Residual vectors on the plan, drawn from the known place the way they point, larger than they are. */
export function residualPlan(content: ResidualPlanContent): ResidualPlan {
  const { id, title, description, axes, bases, vectors, outlines } = content;
  const view = planView(
    [...vectors.map(({ place }) => place), ...bases.flatMap(({ place }) => place ?? [])],
    axes,
    WIDTH,
    50,
  );
  const few = spreadOut(
    vectors.map(({ place }) => view.place(place)),
    MOST_VECTORS,
  ).flatMap((index) => entryAt(vectors, index));
  const exaggeration = exaggerationOf(few, axes, view.pixelsPerMetre);
  const drawn = few.map((vector) => {
    const from = view.place(vector.place);
    const { residual, place } = vector;
    const to =
      residual === null || exaggeration === null
        ? null
        : view.place({
            first: place.first + residual.first * exaggeration,
            second: place.second + residual.second * exaggeration,
          });
    return { vector, from, to };
  });
  const stations = bases.flatMap((base) => (base.place === null ? [] : [{ id: base.id, at: view.place(base.place) }]));
  const labels = placeLabels(
    [...stations.map((base) => ({ at: base.at, text: shortText(base.id, 14), clear: 7 })), ...uniqueNames(drawn)],
    [
      ...stations.map((base) => ({ ...base.at, clear: 8 })),
      ...drawn.flatMap(({ from, to }) => (to === null ? [from] : [from, to])),
    ],
    view.box,
  );
  const { left, right, top, bottom } = view.box;
  return {
    exaggeration,
    drawnCount: few.length,
    drawing: {
      id,
      title,
      description,
      width: WIDTH,
      height: view.height,
      body: together([
        planFrame(view),
        ...stations.map((base) => baseMark(base.at)),
        ...outlines.map((outline) => linePath(polylinePath(outline.map(view.place), true), 'axis dash')),
        ...drawn.map(
          ({ vector, from }) =>
            markup`<path class="${vector.classes}" transform="translate(${at(from.x)} ${at(from.y)})" d="${symbolPath(vector.symbol, 30)}"/>`,
        ),
        linePath(drawn.map(({ from, to }) => (to === null ? '' : arrowPath(from, to))).join(''), 'off'),
        ...labels.map((placed) => label(placed.x, placed.y, placed.text, placed.classes)),
        northArrow(right + 18, top + 18),
        scaleBar(
          left,
          bottom + 60,
          view.pixelsPerMetre,
          0.25 * (right - left),
          (lengthM) => `${groundLength(lengthM)} of ground`,
        ),
        exaggeration === null
          ? { html: '' }
          : scaleBar(
              (left + right) / 2,
              bottom + 60,
              view.pixelsPerMetre * exaggeration,
              60,
              (lengthM) => `${groundLength(lengthM)} of a residual`,
            ),
      ]),
    },
  };
}

/** The round factor that draws the longest residual well visible; null where none is worth an arrow. */
function exaggerationOf(
  vectors: readonly ResidualVector[],
  [across, up]: ResidualPlanContent['axes'],
  pixelsPerMetre: number,
): number | null {
  let longestM = 0;
  for (const { residual } of vectors) {
    if (residual !== null)
      longestM = Math.max(
        longestM,
        Math.hypot(residual.first * across.metresPerUnit, residual.second * up.metresPerUnit),
      );
  }
  return longestM >= LEAST_DRAWN_M ? Math.max(1, roundBelow(LONGEST_PX / (longestM * pixelsPerMetre))) : null;
}

/** A point that was compared several times needs its name once. */
function uniqueNames(
  drawn: readonly { readonly vector: ResidualVector; readonly from: Place }[],
): readonly WantedLabel[] {
  const seen = new Set<string>();
  return drawn.flatMap(({ vector, from }) => {
    if (seen.has(vector.name)) return [];
    seen.add(vector.name);
    return [{ at: from, text: shortText(vector.name, 14), clear: 5 }];
  });
}

function arrowPath(
  from: { readonly x: number; readonly y: number },
  to: { readonly x: number; readonly y: number },
): string {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  if (length < 1) return '';
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const head = Math.min(6, 0.5 * length);
  const wing = (side: 1 | -1): string =>
    `${at(to.x - head * ux + side * 0.4 * head * uy)} ${at(to.y - head * uy - side * 0.4 * head * ux)}`;
  return `M${at(from.x)} ${at(from.y)}L${at(to.x)} ${at(to.y)}M${wing(1)}L${at(to.x)} ${at(to.y)}L${wing(-1)}`;
}
