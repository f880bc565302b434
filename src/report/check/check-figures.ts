import { smallestOf } from '../../core/numeric/extremes.js';
import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { evenlyPicked } from '../figures/evenly-picked.js';
import { wideFigure } from '../figures/figure.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, fixed, millimetres } from '../page/numbers.js';
import { residualPlan } from '../figures/residual-plan.js';
import { shortText } from '../page/visible-text.js';
import { xyDrawing } from '../figures/xy-drawing.js';
import type { XyLimit, XyLine, XyPoint } from '../figures/xy-drawing.js';
import { entryAt } from '../../records/present.js';

const SQUARE = { width: 760, height: 470 };
const FLAT = { width: 760, height: 320 };
/** Of those that exceed, and as many of the others. */
const MOST_DRAWN = 300;

const frameWords = ({ systemName }: CheckReport): string =>
  systemName === null ? 'The points came without a system' : systemName;

/** Control and design residuals on the plan. */
export function residualFigure(report: CheckReport, number: number): Markup | null {
  const { checks, axes, bases } = report;
  const placed = checks.flatMap(({ kind, pointId, place, firstM, secondM, verdict }) =>
    place === null || kind === 'repeat' || kind === 'base-pair'
      ? []
      : [
          {
            place,
            name: pointId,
            residual: firstM === null || secondM === null ? null : { first: firstM, second: secondM },
            ...look(verdict),
          },
        ],
  );
  if (placed.length === 0) return null;
  const plan = residualPlan({
    id: 'residuals',
    title: 'Residual vectors on the plan',
    description:
      'Arrows point from where a point should be to where it was measured, much enlarged. Triangles are bases, filled circles points within, crosses points beyond their limit or their uncertainty, open diamonds points for review or that cannot be judged.',
    axes,
    bases,
    vectors: placed,
    outlines: [],
  });
  const turned =
    axes[0].direction === 'west'
      ? ` ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the south; the map itself has north up.`
      : '';
  const few =
    plan.drawnCount < placed.length
      ? ` ${String(plan.drawnCount)} of ${String(placed.length)} are drawn, spread over the plan.`
      : '';
  const kept = keptWords(checks.length, report.checkCount);
  return wideFigure(
    plan.drawing,
    number,
    markup`Residuals, measured minus known${plan.exaggeration === null ? '' : `, drawn ${fixed(plan.exaggeration, 0)} times too long`}. ${frameWords(report)}; north is grid north.${turned} Triangles: bases. Filled circles: within. Crosses: beyond their limit or, without one, their uncertainty. Open diamonds: for review, or cannot be judged. Names without room are left out.${few}${kept}`,
  );
}

/** East and north residuals about nought, with the limit and the 95 % circle. */
export function scatterFigure(report: CheckReport, number: number): Markup | null {
  const sign = report.axes[0].direction === 'west' ? -1 : 1;
  const { points, thin } = drawnOf(report, ({ kind, firstM, secondM }) =>
    kind === 'repeat' || kind === 'base-pair' || firstM === null || secondM === null
      ? null
      : { x: 1000 * sign * firstM, y: 1000 * sign * secondM },
  );
  if (points.length === 0) return null;
  const limits = [...new Set(report.checks.flatMap(({ horizontalLimitM }) => horizontalLimitM ?? []))].sort(
    (a, b) => a - b,
  );
  const lines: XyLine[] = [];
  const least = limits[0];
  const most = limits[limits.length - 1];
  if (least !== undefined) lines.push(circle(least, 'off dash', limits.length === 1 ? 'limit' : 'least limit'));
  if (most !== undefined && most !== least) lines.push(circle(most, 'off dash', 'largest limit'));
  const { circle95 } = report;
  if (circle95 !== null) lines.push(circle(circle95.radiusM, 'inkline', '95 %', 27));
  return wideFigure(
    xyDrawing({
      id: 'scatter',
      title: 'Residuals in plan',
      description:
        'East and north residuals in millimetres about nought, with the limit as a dashed circle and the 95 % circle of the residuals as a full one.',
      acrossTitle: 'east, mm',
      upTitle: 'north, mm',
      points,
      lines,
      ...SQUARE,
      isEqualScale: true,
    }),
    number,
    markup`Residuals in plan, grid east and north. ${frameWords(report)}.${circle95 === null ? '' : ` Full circle: 95 % by the RMSE of the control residuals, ${millimetres(circle95.radiusM)} mm, from ${counted(circle95.count, 'check')}${circle95.isStated ? '' : '; too few or too unequal for a statement of accuracy'}.`}${least === undefined ? ' No limit was set.' : ' Dashed: the limit.'}${thin}`,
  );
}

/** Height residuals against the distance from the base, or against the height difference from it. */
export function heightFigure(report: CheckReport, number: number, against: 'distance' | 'rise'): Markup | null {
  const { points, thin } = drawnOf(report, ({ kind, upM, distanceM, heightDifferenceM }) => {
    const x = against === 'distance' ? distanceM : heightDifferenceM;
    return kind !== 'control' || upM === null || x === null
      ? null
      : { x: against === 'distance' ? x / 1000 : x, y: 1000 * upM };
  });
  if (points.length === 0) return null;
  const limits = report.checks.flatMap(({ verticalLimitM }) => verticalLimitM ?? []);
  const limitM = limits.length === 0 ? null : smallestOf(limits);
  const words = against === 'distance' ? 'distance from the base' : 'height above the base';
  return wideFigure(
    xyDrawing({
      id: `height-${against}`,
      title: `Height residuals against ${words}`,
      description: `Measured minus known height in millimetres over the ${words}.`,
      acrossTitle: against === 'distance' ? 'distance from the base, km' : 'height above the base, m',
      upTitle: 'height, mm',
      points,
      lines: [],
      limits:
        limitM === null
          ? []
          : [
              { y: 1000 * limitM, word: 'limit' },
              { y: -1000 * limitM, word: '' },
            ],
      ...FLAT,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Height residuals against the ${words}. ${against === 'distance' ? 'A slope with distance points to troposphere, scale or geoid tilt.' : 'A slope with height difference points to troposphere.'} ${frameWords(report)}.${limitM === null ? '' : ' Dashed: the least limit.'}${thin}`,
  );
}

/** How far occupations of one point lie apart, over the time between them. */
export function repeatFigure(report: CheckReport, number: number): Markup | null {
  const isRepeat = (kind: ReportCheck['kind']): boolean => kind === 'repeat';
  const plan = drawnOf(report, ({ kind, firstM, secondM, separationS }) =>
    !isRepeat(kind) || firstM === null || secondM === null || separationS === null
      ? null
      : { x: separationS / 3600, y: 1000 * Math.hypot(firstM, secondM) },
  );
  const height = drawnOf(report, ({ kind, upM, separationS }) =>
    !isRepeat(kind) || upM === null || separationS === null ? null : { x: separationS / 3600, y: 1000 * Math.abs(upM) },
  );
  const heights = height.points.map((point): XyPoint =>
    point.classes === 'bad'
      ? { ...point, symbol: 'cross', name: '' }
      : { ...point, symbol: 'square', classes: 'doubt', name: '' },
  );
  if (plan.points.length + heights.length === 0) return null;
  const limits = [
    oneLimit(report, 'horizontalLimitM', 'limit in plan'),
    oneLimit(report, 'verticalLimitM', 'limit in height'),
  ].flatMap((limit) => limit ?? []);
  return wideFigure(
    xyDrawing({
      id: 'repeats-over-time',
      title: 'Repeats by separation',
      description:
        'Differences between occupations of the same point in millimetres over the hours between them. Circles in plan, squares in height; of pairs that exceed, slanting crosses in plan and upright crosses in height.',
      acrossTitle: 'hours between occupations',
      upTitle: 'difference, mm',
      points: [...plan.points, ...heights],
      lines: [],
      limits,
      ...FLAT,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Repeats by separation. Filled circles: plan. Open squares: height. Of pairs that exceed: slanting crosses in plan, upright crosses in height.${limits.length === 0 ? '' : ' Dashed: the limits.'} Occupations close in time share their slow errors and agree too well. ${frameWords(report)}.${plan.thin}`,
  );
}

function drawnOf(
  { checks, checkCount }: CheckReport,
  placeOf: (check: ReportCheck) => { readonly x: number; readonly y: number } | null,
): { readonly points: readonly XyPoint[]; readonly thin: string } {
  const all = checks.flatMap((check): readonly XyPoint[] => {
    const place = placeOf(check);
    return place === null ? [] : [{ ...place, name: shortText(check.pointId, 14), ...look(check.verdict) }];
  });
  const isBad = ({ classes }: XyPoint): boolean => classes === 'bad';
  const points = [
    ...evenlyPicked(
      all.filter((point) => !isBad(point)),
      MOST_DRAWN,
    ),
    ...evenlyPicked(all.filter(isBad), MOST_DRAWN),
  ];
  return {
    points,
    thin:
      points.length < all.length
        ? ` ${String(points.length)} of ${String(all.length)} are drawn, evenly picked among those within and those that exceed.${keptWords(checks.length, checkCount)}`
        : keptWords(checks.length, checkCount),
  };
}

function keptWords(kept: number, all: number): string {
  return kept < all ? ` The page keeps ${String(kept)} of ${String(all)} comparisons, those that exceed first.` : '';
}

/** The limit of the repeats where they share one. */
function oneLimit({ checks }: CheckReport, of: 'horizontalLimitM' | 'verticalLimitM', word: string): XyLimit | null {
  // A difference without a limit is left out.
  const limits = [...new Set(checks.flatMap((check) => (check.kind === 'repeat' ? (check[of] ?? []) : [])))];
  return limits.length === 1 ? { y: 1000 * entryAt(limits, 0), word } : null;
}

function look(verdict: ReportCheck['verdict']): {
  readonly symbol: 'circle' | 'times' | 'diamond';
  readonly classes: 'mark' | 'bad' | 'doubt';
} {
  switch (verdict) {
    case 'within':
      return { symbol: 'circle', classes: 'mark' };
    case 'exceeds':
      return { symbol: 'times', classes: 'bad' };
    case 'review':
    case 'not-stated':
      return { symbol: 'diamond', classes: 'doubt' };
  }
}

/** A circle about nought; its word stands `from` so many steps of 5° from east, against the clock. */
function circle(radiusM: number, classes: string, word: string, from: number = 9): XyLine {
  const places = Array.from({ length: 73 }, (_, i) => ({
    x: 1000 * radiusM * Math.cos((Math.PI * (i + from)) / 36),
    y: 1000 * radiusM * Math.sin((Math.PI * (i + from)) / 36),
  }));
  return { places, classes, word };
}
