import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { evenlyPicked } from '../figures/evenly-picked.js';
import type { SymbolName } from '../figures/shapes.js';
import { thinned, thinWords } from '../figures/thinned.js';
import type { MarkClass } from '../figures/thinned.js';
import type { XyPoint } from '../figures/drawings/xy-drawing.js';
import { lengthUnit } from '../page/words/length-unit.js';
import type { LengthUnit } from '../page/words/length-unit.js';
import { shortText } from '../page/words/visible-text.js';

/** Of those that are within; what exceeds or is in doubt is all drawn. */
const MOST_DRAWN = 300;

/** Marks of one axis. */
export interface DrawnChecks {
  /** In metres. */
  readonly points: readonly XyPoint[];
  /** What each stands for. */
  readonly checks: readonly ReportCheck[];
  readonly thin: string;
}

/** Comparisons as marks of one axis, those beyond it last. Given: where a comparison stands, in metres; null: not in this figure. */
export function drawnOf(
  { checks, checkCount }: CheckReport,
  axis: 'plan' | 'height',
  placeOf: (check: ReportCheck) => { readonly x: number; readonly y: number } | null,
): DrawnChecks {
  const all = checks.flatMap((check): readonly { readonly check: ReportCheck; readonly point: XyPoint }[] => {
    const place = placeOf(check);
    if (place === null) return [];
    const spread = axis === 'plan' ? { circle: check.circle95M } : { bar: check.vertical95M };
    return [{ check, point: { ...place, ...spread, name: shortText(check.pointId, 14), ...lookOfAxis(check, axis) } }];
  });
  const few = thinned(
    all,
    ({ point }) => markClass(point),
    (good) => evenlyPicked(good, MOST_DRAWN),
  );
  return {
    points: few.drawn.map(({ point }) => point),
    checks: few.drawn.map(({ check }) => check),
    thin: `${thinWords(few, 'within', 'evenly picked')}${keptWords(checks.length, checkCount)}`,
  };
}

function markClass({ classes }: XyPoint): MarkClass {
  return classes === 'base' ? 'mark' : classes;
}

/** A mark whose uncertainty the figure has no room for. */
export function alone(point: XyPoint): XyPoint {
  return { ...point, circle: null, bar: null };
}

/** The unit of a figure of marks in metres. */
export function unitOf(points: readonly XyPoint[], limitM: number): LengthUnit {
  return lengthUnit(points.reduce((most, { x, y }) => Math.max(most, Math.abs(x), Math.abs(y)), limitM));
}

/** The same marks in a unit: both of their numbers, or the upright one alone. */
export function inUnit(
  points: readonly XyPoint[],
  { perMetre }: LengthUnit,
  axis: 'both' | 'y' = 'both',
): readonly XyPoint[] {
  const scaled = (value: number | null | undefined): number | null => (value == null ? null : value * perMetre);
  return points.map((point) => ({
    ...point,
    x: axis === 'both' ? point.x * perMetre : point.x,
    y: point.y * perMetre,
    circle: scaled(point.circle),
    bar: scaled(point.bar),
  }));
}

/** What a caption says where the page does not keep every comparison. */
export function keptWords(kept: number, all: number): string {
  return kept < all ? ` The page keeps ${String(kept)} of ${String(all)} comparisons, those that exceed first.` : '';
}

interface Look {
  readonly symbol: SymbolName;
  readonly classes: MarkClass;
}

/** The mark of a comparison: what exceeds says in which axis. */
export function look({ verdict, exceeds: { plan, height } }: ReportCheck): Look {
  switch (verdict) {
    case 'within':
      return { symbol: 'circle', classes: 'mark' };
    case 'exceeds':
      return { symbol: plan && height ? 'star' : plan ? 'times' : 'cross', classes: 'bad' };
    case 'review':
    case 'not-stated':
      return { symbol: 'diamond', classes: 'doubt' };
  }
}

/** The mark in a figure of one axis: what exceeds in the other alone is within here. */
function lookOfAxis(check: ReportCheck, axis: 'plan' | 'height'): Look {
  if (check.verdict !== 'exceeds') return look(check);
  return check.exceeds[axis] ? { symbol: 'times', classes: 'bad' } : { symbol: 'circle', classes: 'mark' };
}
