import type { CarriedMark, CarriedReport } from '../../records/reports/parts/carried-report.js';
import { wideFigure } from '../figures/figure.js';
import { linedPlan } from '../figures/plan/lined-plan.js';
import type { PlanMark } from '../figures/plan/lined-plan.js';
import { farWords, planExtent } from '../figures/plan/plan-extent.js';
import { markup } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed } from '../page/words/numbers.js';

/** Circles drawn at most; more hide each other. */
const MOST_CIRCLES = 300;

/** Points where they arrived, with their 95 % circles where these are known. */
export function carriedFigure(report: CarriedReport, number: number): Markup {
  const { axes, marks, hull, counts, isOfSite, systemName } = report;
  const { near, far } = planExtent(marks, axes, ({ place }) => place);
  const circles = near.filter(({ circle95M }) => circle95M !== null).slice(0, MOST_CIRCLES);
  const plan = linedPlan({
    id: 'points-figure',
    title: 'Points where they arrived',
    description:
      'Points on the plan of the system that they were carried to. Open diamonds are points for review, circles all others; a thin circle about a point is its uncertainty of 95 %, much enlarged; a dashed line is the hull of the control of a site.',
    axes,
    lines: [],
    marks: near.map(markOf),
    ellipses: circles.map(circleOf),
    outlines: hull === null ? [] : [hull],
  });
  const inDoubt = near.some(({ isInDoubt }) => isInDoubt) ? ' Open diamonds: for review.' : '';
  const drawn =
    plan.markCount + far.length < counts.carried
      ? ` ${String(plan.markCount)} of ${String(counts.carried)} points are drawn, spread over the plan.`
      : '';
  return wideFigure(
    plan.drawing,
    number,
    markup`Points in ${systemName}${axes[0].columnName === 'east_m' ? `, laid out east and north ${axes[0].name.replace('east ', '')}` : ''}.${
      plan.exaggeration === null
        ? ''
        : ` Thin circles: 95 % of ${isOfSite ? 'the fit alone' : 'the point itself'}, drawn ${fixed(plan.exaggeration, 0)} times too large.`
    }${inDoubt}${hull === null ? '' : ' Dashed: hull of the control, outside which nothing checks the fit.'}${drawn} Names without room are left out.${farWords(far.map(({ pointId }) => pointId))}`,
  );
}

function markOf({ place, pointId, circle95M, isInDoubt }: CarriedMark): PlanMark {
  // Without a circle none takes room.
  const common = { place, name: pointId, ellipseM: circle95M ?? 0 };
  return isInDoubt
    ? { ...common, symbol: 'diamond', classes: 'doubt', area: 60, rank: 0 }
    : { ...common, symbol: 'circle', classes: 'mark', area: 26, rank: 2 };
}

function circleOf({ place, circle95M }: CarriedMark): Parameters<typeof linedPlan>[0]['ellipses'][number] {
  const radiusM = circle95M ?? 0; // Only those that are known are drawn.
  return {
    place,
    bearingDeg: 0,
    classes: 'blue',
    summary: {
      ellipseMajor95M: radiusM,
      ellipseMinor95M: radiusM,
      ellipseAzimuthDeg: 0,
      circle95M: radiusM,
      vertical95M: 0,
    },
  };
}
