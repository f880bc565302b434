import type { CheckReport, ReportCheck } from '../../records/check-report.js';
import { wideFigure } from '../figure.js';
import { markup } from '../markup.js';
import type { Markup } from '../markup.js';
import { fixed, millimetres } from '../numbers.js';
import { residualPlan } from '../residual-plan.js';
import { shortText } from '../visible-text.js';
import { xyDrawing } from '../xy-drawing.js';
import type { XyLine, XyPoint } from '../xy-drawing.js';

const SQUARE = { width: 760, height: 470 };
const FLAT = { width: 760, height: 320 };
const MOST_DRAWN = 600;

const frameWords = ({ systemName }: CheckReport): string => (systemName === null ? 'The points came without a system' : systemName);

/** Control and design residuals on the plan. */
export function residualFigure(report: CheckReport, number: number): Markup | null {
  const { checks, axes, bases } = report;
  const placed = checks.flatMap(({ kind, pointId, place, firstM, secondM, verdict }) => (place === null || kind === 'repeat' || kind === 'base-pair' ? [] : [{ place, name: pointId, residual: firstM === null || secondM === null ? null : { first: firstM, second: secondM }, ...look(verdict) }]));
  if (placed.length === 0) return null;
  const plan = residualPlan({
    id: 'residuals',
    title: 'Residual vectors on the plan',
    description: 'Arrows point from where a point should be to where it was measured, much enlarged. Triangles are bases, filled circles points within their limit, crosses points beyond it, open diamonds points that cannot be judged.',
    axes,
    bases,
    vectors: placed,
    outlines: [],
  });
  const turned = axes[0].direction === 'west' ? ` ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the south; the map itself has north up.` : '';
  const few = plan.drawnCount < placed.length ? ` ${String(plan.drawnCount)} of ${String(placed.length)} are drawn, spread over the plan.` : '';
  return wideFigure(plan.drawing, number, markup`Residuals, measured minus known${plan.exaggeration === null ? '' : `, drawn ${fixed(plan.exaggeration, 0)} times too long`}. ${frameWords(report)}; north is grid north.${turned} Triangles: bases. Filled circles: within. Crosses: beyond the limit. Open diamonds: cannot be judged.${few}`);
}

/** East and north residuals about nought, with the limit and the 95 % circle. */
export function scatterFigure(report: CheckReport, number: number): Markup | null {
  const sign = report.axes[0].direction === 'west' ? -1 : 1;
  const points = drawnOf(report.checks, ({ kind, firstM, secondM }) => (kind === 'repeat' || kind === 'base-pair' || firstM === null || secondM === null ? null : { x: 1000 * sign * firstM, y: 1000 * sign * secondM }));
  if (points.length === 0) return null;
  const limits = [...new Set(report.checks.flatMap(({ horizontalLimitM }) => horizontalLimitM ?? []))].sort((a, b) => a - b);
  const lines: XyLine[] = [];
  const least = limits[0];
  const most = limits[limits.length - 1];
  if (least !== undefined) lines.push(circle(least, 'off dash', limits.length === 1 ? 'limit' : 'least limit'));
  if (most !== undefined && most !== least) lines.push(circle(most, 'off dash', 'largest limit'));
  if (report.circle95M !== null) lines.push(circle(report.circle95M, 'inkline', '95 %'));
  return wideFigure(
    xyDrawing({ id: 'scatter', title: 'Residuals in plan', description: 'East and north residuals in millimetres about nought, with the limit as a dashed circle and the 95 % circle of the residuals as a full one.', acrossTitle: 'east, mm', upTitle: 'north, mm', points, lines, ...SQUARE, isEqualScale: true }),
    number,
    markup`Residuals in plan, grid east and north. ${frameWords(report)}.${report.circle95M === null ? '' : ` Full circle: 95 % by the RMSE of the control residuals, ${millimetres(report.circle95M)} mm.`}${least === undefined ? ' No limit was set.' : ' Dashed: the limit.'}`,
  );
}

/** Height residuals against the distance from the base, or against the height difference from it. */
export function heightFigure(report: CheckReport, number: number, against: 'distance' | 'rise'): Markup | null {
  const points = drawnOf(report.checks, ({ kind, upM, distanceM, heightDifferenceM }) => {
    const x = against === 'distance' ? distanceM : heightDifferenceM;
    return kind !== 'control' || upM === null || x === null ? null : { x: against === 'distance' ? x / 1000 : x, y: 1000 * upM };
  });
  if (points.length === 0) return null;
  const far = points.reduce((most, { x }) => Math.max(most, x), 0);
  const near = points.reduce((least, { x }) => Math.min(least, x), 0);
  const limits = report.checks.flatMap(({ verticalLimitM }) => verticalLimitM ?? []);
  const limitM = limits.length === 0 ? null : Math.min(...limits);
  const lines: XyLine[] = limitM === null ? [] : [1, -1].map((side) => ({ places: [{ x: near, y: side * 1000 * limitM }, { x: far, y: side * 1000 * limitM }], classes: 'off dash', word: side === 1 ? 'limit' : '' }));
  const words = against === 'distance' ? 'distance from the base' : 'height above the base';
  return wideFigure(
    xyDrawing({ id: `height-${against}`, title: `Height residuals against ${words}`, description: `Measured minus known height in millimetres over the ${words}.`, acrossTitle: against === 'distance' ? 'distance from the base, km' : 'height above the base, m', upTitle: 'height, mm', points, lines, ...FLAT, from: { x: 0, y: 0 } }),
    number,
    markup`Height residuals against the ${words}. ${against === 'distance' ? 'A slope with distance points to troposphere, scale or geoid tilt.' : 'A slope with height difference points to troposphere.'} ${frameWords(report)}.${limitM === null ? '' : ' Dashed: the least limit.'}`,
  );
}

/** How far occupations of one point lie apart, over the time between them. */
export function repeatFigure(report: CheckReport, number: number): Markup | null {
  const isRepeat = (kind: ReportCheck['kind']): boolean => kind === 'repeat';
  const plan = drawnOf(report.checks, ({ kind, firstM, secondM, separationS }) => (!isRepeat(kind) || firstM === null || secondM === null || separationS === null ? null : { x: separationS / 3600, y: 1000 * Math.hypot(firstM, secondM) }));
  const height = drawnOf(report.checks, ({ kind, upM, separationS }) => (!isRepeat(kind) || upM === null || separationS === null ? null : { x: separationS / 3600, y: 1000 * Math.abs(upM) })).map((point): XyPoint => ({ ...point, symbol: 'square', classes: point.classes === 'bad' ? 'bad' : 'doubt', name: '' }));
  if (plan.length + height.length === 0) return null;
  return wideFigure(
    xyDrawing({ id: 'repeats-over-time', title: 'Repeats by separation', description: 'Differences between occupations of the same point in millimetres over the hours between them: circles or crosses in plan, squares in height.', acrossTitle: 'hours between occupations', upTitle: 'difference, mm', points: [...plan, ...height], lines: [], ...FLAT, from: { x: 0, y: 0 } }),
    number,
    markup`Repeats by separation. Circles: plan; crosses: plan, beyond the limit; squares: height. Occupations close in time share their slow errors and agree too well. ${frameWords(report)}.`,
  );
}

function drawnOf(checks: readonly ReportCheck[], placeOf: (check: ReportCheck) => { readonly x: number; readonly y: number } | null): readonly XyPoint[] {
  const all = checks.flatMap((check): readonly XyPoint[] => {
    const place = placeOf(check);
    return place === null ? [] : [{ ...place, name: shortText(check.pointId, 14), ...look(check.verdict) }];
  });
  const step = Math.ceil(all.length / MOST_DRAWN);
  return all.filter((point, index) => index % step === 0 || point.classes === 'bad');
}

function look(verdict: ReportCheck['verdict']): { readonly symbol: 'circle' | 'times' | 'diamond'; readonly classes: 'mark' | 'bad' | 'doubt' } {
  switch (verdict) {
    case 'within':
      return { symbol: 'circle', classes: 'mark' };
    case 'exceeds':
      return { symbol: 'times', classes: 'bad' };
    case 'not-stated':
      return { symbol: 'diamond', classes: 'doubt' };
  }
}

function circle(radiusM: number, classes: string, word: string): XyLine {
  const places = Array.from({ length: 73 }, (_, i) => ({ x: 1000 * radiusM * Math.cos((Math.PI * (i + 9)) / 36), y: 1000 * radiusM * Math.sin((Math.PI * (i + 9)) / 36) }));
  return { places, classes, word };
}
