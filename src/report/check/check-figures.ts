import { signsOf } from '../../core/grid/systems/grid-axes.js';
import { largestOf, smallestOf } from '../../core/numeric/extremes.js';
import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { wideFigure } from '../figures/figure.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import type { LengthUnit } from '../page/words/length-unit.js';
import { counted, millimetres } from '../page/words/numbers.js';
import { spreadWords } from '../figures/farthest-spread.js';
import { alone, drawnOf, inUnit, keptWords, look, unitOf } from './check-marks.js';
import { residualPlan } from '../figures/plan/residual-plan.js';
import type { ResidualPlan } from '../figures/plan/residual-plan.js';
import type { ResidualVector } from '../figures/plan/residual-scale.js';
import { MOST_CIRCLES } from '../figures/plan/residual-scale.js';
import { xyDrawing } from '../figures/drawings/xy-drawing.js';
import type { XyLimit, XyLine, XyPoint } from '../figures/drawings/xy-drawing.js';
import { entryAt } from '../../records/present.js';

const SQUARE = { width: 760, height: 470 };
const FLAT = { width: 760, height: 320 };
const MOST_JOINED = 60;
const LEAST_KM_M = 1000;
/** Distances and rises from a base below a metre are none. */
const LEAST_ACROSS_M = 1;
const MOST_MISSING = 12;

const frameWords = ({ systemName }: CheckReport): string =>
  systemName === null ? 'The points came without a system' : systemName;

/** Control and design residuals on the plan. */
export function residualFigure(report: CheckReport, number: number): Markup | null {
  const { checks, axes, bases } = report;
  const placed = checks.flatMap((check) => {
    const { kind, pointId, place, firstM, secondM, circle95M, horizontalLimitM } = check;
    if (place === null || kind === 'repeat' || kind === 'base-pair') return [];
    const residual = firstM === null || secondM === null ? null : { first: firstM, second: secondM };
    return [{ place, name: pointId, residual, circle95M, limitM: horizontalLimitM, ...look(check), ...arrowOf(check) }];
  });
  if (placed.length === 0) return null;
  const plan = residualPlan({
    id: 'residuals',
    title: 'Residual vectors on the plan',
    description:
      'Arrows point from where a point should be to where it was measured, much enlarged. Triangles are bases, filled circles points within, open diamonds points for review or that cannot be judged; beyond their limit or their uncertainty are slanting crosses in plan, upright crosses in height, stars in both.',
    axes,
    bases,
    vectors: placed,
    outlines: [],
    goodWord: 'within',
  });
  const turned =
    axes[0].direction === 'west'
      ? ` ${axes[0].abbreviation} grows to the west, ${axes[1].abbreviation} to the ${axes[1].direction}; the map itself has north up.`
      : '';
  const kept = keptWords(checks.length, report.checkCount);
  return wideFigure(
    plan.drawing,
    number,
    markup`Residuals, measured minus known${plan.arrowWords}. ${frameWords(report)}; north is grid north.${turned} Triangles: bases. Filled circles: within. Beyond their limit or, without one, their uncertainty: slanting crosses in plan, upright crosses in height, stars in both. Open diamonds: for review, or cannot be judged. ${circleWords(plan.circles)}Names without room are left out.${plan.thinWords}${kept}`,
  );
}

/** What is beyond in height alone has the arrow of what is within. */
function arrowOf({ verdict, exceeds }: ReportCheck): Pick<ResidualVector, 'arrow'> {
  return verdict === 'exceeds' && !exceeds.plan ? { arrow: 'mark' } : {};
}

/** A mark as high as it is: its place across has a unit of its own. */
function alongY(point: XyPoint): XyPoint {
  return { ...point, x: 0 };
}

/** What circles stand about residuals, as they are drawn. */
function circleWords({ limits, spreads, areOfFailing }: ResidualPlan['circles']): string {
  const said = [
    limits ? 'Dashed about a point: its limit. ' : '',
    spreads ? 'Thin about the end of an arrow: 95 % of the difference. ' : '',
  ].join('');
  if (!areOfFailing) return said;
  return said === ''
    ? 'So many stand close: limits and 95 % are in the next figure. '
    : `${said}Of so many, those beyond alone have them. `;
}

/** East and north residuals about nought, with the limit and the 95 % circle. */
export function scatterFigure(report: CheckReport, number: number): Markup | null {
  const [eastSign, northSign] = signsOf(report.axes);
  const { points: metres, thin } = drawnOf(report, 'plan', ({ kind, firstM, secondM }) =>
    kind === 'repeat' || kind === 'base-pair' || firstM === null || secondM === null
      ? null
      : { x: eastSign * firstM, y: northSign * secondM },
  );
  if (metres.length === 0) return null;
  const limits = [...new Set(report.checks.flatMap(({ horizontalLimitM }) => horizontalLimitM ?? []))].sort(
    (a, b) => a - b,
  );
  const lines: XyLine[] = [];
  const least = limits[0];
  const most = limits[limits.length - 1];
  // Without a limit there is none to make room for.
  const unit = unitOf(metres, most ?? 0);
  const { points, kept } = circledFarthest(inUnit(metres, unit));
  if (least !== undefined) lines.push(circle(least, unit, 'off dash', limits.length === 1 ? 'limit' : 'least limit'));
  if (most !== undefined && most !== least) lines.push(circle(most, unit, 'off dash', 'largest limit'));
  const { circle95 } = report;
  if (circle95 !== null) lines.push(circle(circle95.radiusM, unit, 'inkline', '95 %', 27));
  return wideFigure(
    xyDrawing({
      id: 'scatter',
      title: 'Residuals in plan',
      description:
        'East and north residuals about nought, with the limit as a dashed circle; about a residual, the 95 % circle of the difference.',
      acrossTitle: `east, ${unit.name}`,
      upTitle: `north, ${unit.name}`,
      points,
      lines,
      ...SQUARE,
      isEqualScale: true,
    }),
    number,
    markup`Residuals in plan, grid east and north. ${frameWords(report)}.${circle95 === null ? '' : ` Full circle: 95 % by the RMSE of the control residuals, ${unit.write(circle95.radiusM)} ${unit.name}, from ${counted(circle95.count, 'check')}${circle95.isStated ? '' : '; too unequal for a statement of accuracy'}.`}${least === undefined ? ' No limit was set.' : ' Dashed: the limit.'} ${points.some(({ circle: radius }) => radius != null) ? `Thin circles: 95 % of the difference${kept === null ? '' : `, of the ${String(kept)} farthest alone`}. ` : ''}Crosses: beyond in plan; one that is beyond in height alone is a filled circle here.${thin}`,
  );
}

/** Of residuals none of which fails, so many keep the circle about them: more of one size would hide the limit. */
const MOST_OF_GOOD = 12;

/** Of many residuals those farthest from nought keep the circle about them; the others stand alone. `kept`: how many; null: all. */
function circledFarthest(points: readonly XyPoint[]): {
  readonly points: readonly XyPoint[];
  readonly kept: number | null;
} {
  const circled = points.filter(({ circle: radius }) => radius != null);
  const kept = circled.some(({ classes }) => classes === 'bad') ? MOST_CIRCLES : MOST_OF_GOOD;
  if (circled.length <= kept) return { points, kept: null };
  const farthest = new Set(circled.sort((a, b) => farFrom(b) - farFrom(a)).slice(0, kept));
  return { points: points.map((point) => (farthest.has(point) ? point : alone(point))), kept };
}

function farFrom({ x, y }: XyPoint): number {
  return Math.hypot(x, y);
}

/** Height residuals against the distance from the base, or against the height difference from it. */
export function heightFigure(report: CheckReport, number: number, against: 'distance' | 'rise'): Markup | null {
  const { points: metres, thin } = drawnOf(report, 'height', ({ kind, upM, distanceM, heightDifferenceM }) => {
    const x = against === 'distance' ? distanceM : heightDifferenceM;
    return kind !== 'control' || upM === null || x === null ? null : { x, y: upM };
  });
  if (metres.length === 0) return null;
  const farM = largestOf(metres.map(({ x }) => Math.abs(x)));
  // A day on one peg has no kilometres.
  const across =
    against === 'distance' && farM >= LEAST_KM_M ? { name: 'km', perMetre: 1e-3 } : { name: 'm', perMetre: 1 };
  const limits = report.checks.flatMap(({ verticalLimitM }) => verticalLimitM ?? []);
  const limitM = limits.length === 0 ? null : smallestOf(limits);
  // Without a limit there is none to make room for.
  const unit = unitOf(metres.map(alongY), limitM ?? 0);
  const points = inUnit(metres, unit, 'y').map((point) => ({ ...point, x: across.perMetre * point.x }));
  const words = against === 'distance' ? 'distance from the base' : 'height above the base';
  return wideFigure(
    xyDrawing({
      id: `height-${against}`,
      title: `Height residuals against ${words}`,
      description: `Measured minus known height over the ${words}; bars are 95 % of the difference.`,
      acrossTitle: `${words}, ${across.name}`,
      upTitle: `height, ${unit.name}`,
      points,
      lines: [],
      reachX: LEAST_ACROSS_M * across.perMetre,
      limits:
        limitM === null
          ? []
          : [
              { y: unit.perMetre * limitM, word: 'limit' },
              { y: -unit.perMetre * limitM, word: '' },
            ],
      ...FLAT,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Height residuals against the ${words}. ${against === 'distance' ? 'A slope with distance points to troposphere, scale or geoid tilt.' : 'A slope with height difference points to troposphere.'} ${frameWords(report)}.${limitM === null ? '' : ' Dashed: the least limit.'} ${points.some(({ bar }) => bar != null) ? `Bars: 95 % of the difference${spreadWords(points)}. ` : ''}Crosses: beyond in height.${thin}${missingWords(report, against)}`,
  );
}

/** Control residuals in height that have no place in a figure over the baseline, since several bases gave the point: those beyond first, by name. */
function missingWords({ checks }: CheckReport, against: 'distance' | 'rise'): string {
  const missing = checks.filter(
    ({ kind, upM, distanceM, heightDifferenceM }) =>
      kind === 'control' && upM !== null && (against === 'distance' ? distanceM : heightDifferenceM) === null,
  );
  if (missing.length === 0) return '';
  const first = missing.toSorted((a, b) => Number(b.exceeds.height) - Number(a.exceeds.height)).slice(0, MOST_MISSING);
  const names = first.map(
    ({ pointId, upM, exceeds }) => `${pointId} ${millimetres(upM)} mm${exceeds.height ? ' (beyond)' : ''}`,
  );
  return ` Not drawn, because no single base gave the point: ${names.join(', ')}${missing.length > MOST_MISSING ? ` and ${String(missing.length - MOST_MISSING)} more` : ''}.`;
}

/** How far occupations of one point lie apart, over the time between them. */
export function repeatFigure(report: CheckReport, number: number): Markup | null {
  const isRepeat = (kind: ReportCheck['kind']): boolean => kind === 'repeat' || kind === 'base-pair';
  const plan = drawnOf(report, 'plan', ({ kind, firstM, secondM, separationS }) =>
    !isRepeat(kind) || firstM === null || secondM === null || separationS === null
      ? null
      : { x: separationS / 3600, y: Math.hypot(firstM, secondM) },
  );
  const height = drawnOf(report, 'height', ({ kind, upM, separationS }) =>
    !isRepeat(kind) || upM === null || separationS === null ? null : { x: separationS / 3600, y: Math.abs(upM) },
  );
  if (plan.points.length + height.points.length === 0) return null;
  const unit = unitOf([...plan.points, ...height.points].map(alongY), 0);
  const plans = inUnit(plan.points, unit, 'y').map(alone);
  const heights = inUnit(height.points, unit, 'y').map((point): XyPoint =>
    point.classes === 'bad'
      ? { ...alone(point), symbol: 'cross' }
      : { ...alone(point), symbol: 'square', classes: 'doubt', name: '' },
  );
  const limits = together(
    [
      oneLimit(report, unit, 'horizontalLimitM', 'limit in plan'),
      oneLimit(report, unit, 'verticalLimitM', 'limit in height'),
    ].flatMap((limit) => limit ?? []),
  );
  return wideFigure(
    xyDrawing({
      id: 'repeats-over-time',
      title: 'Repeats by separation',
      description:
        'Differences between occupations of the same point over the hours between them. Circles in plan, squares in height, joined; slanting crosses are beyond in plan, upright crosses in height.',
      acrossTitle: 'hours between occupations',
      upTitle: `difference, ${unit.name}`,
      points: [...plans, ...heights],
      lines: joined(plan.checks, height.checks, unit),
      limits,
      ...FLAT,
      from: { x: 0, y: 0 },
    }),
    number,
    markup`Repeats by separation. ${report.checks.some(({ kind }) => kind === 'base-pair') ? 'Pairs from two bases are among them. ' : ''}Filled circles: plan. Open squares: height. Beyond: slanting crosses in plan, upright crosses in height.${report.checks.some(({ kind, verdict }) => (kind === 'repeat' || kind === 'base-pair') && (verdict === 'review' || verdict === 'not-stated')) ? ' Open diamonds: for review, or cannot be judged.' : ''} A line joins the two of one pair.${limits.length === 0 ? '' : ' Dashed: the limits.'} Occupations close in time share their slow errors and agree too well. ${frameWords(report)}.${plan.thin}`,
  );
}

/** Lines between plan and height of a pair that is drawn in both, while there are few. */
function joined(plan: readonly ReportCheck[], height: readonly ReportCheck[], unit: LengthUnit): readonly XyLine[] {
  const both = plan.filter((check) => height.includes(check));
  if (both.length > MOST_JOINED) return [];
  return both.flatMap(({ firstM, secondM, upM, separationS }): readonly XyLine[] => {
    if (firstM === null || secondM === null || upM === null || separationS === null) return [];
    const x = separationS / 3600;
    const ends = [Math.hypot(firstM, secondM), Math.abs(upM)].map((valueM) => ({ x, y: valueM * unit.perMetre }));
    return [{ places: ends, classes: 'spread', word: '' }];
  });
}

/** Limits of plan and height that are one line have one word. */
function together(limits: readonly XyLimit[]): readonly XyLimit[] {
  const [plan, height] = limits;
  return plan !== undefined && plan.y === height?.y ? [{ ...plan, word: 'limit in plan and height' }] : limits;
}

/** The limit of the repeats where they share one. */
function oneLimit(
  { checks }: CheckReport,
  unit: LengthUnit,
  of: 'horizontalLimitM' | 'verticalLimitM',
  word: string,
): XyLimit | null {
  // A difference without a limit is left out.
  const limits = [...new Set(checks.flatMap((check) => (check.kind === 'repeat' ? (check[of] ?? []) : [])))];
  return limits.length === 1 ? { y: unit.perMetre * entryAt(limits, 0), word } : null;
}

/** A circle about nought; its word stands `from` so many steps of 5° from east, against the clock. */
function circle(radiusM: number, { perMetre }: LengthUnit, classes: string, word: string, from: number = 9): XyLine {
  const places = Array.from({ length: 73 }, (_, i) => ({
    x: perMetre * radiusM * Math.cos((Math.PI * (i + from)) / 36),
    y: perMetre * radiusM * Math.sin((Math.PI * (i + from)) / 36),
  }));
  return { places, classes, word };
}
