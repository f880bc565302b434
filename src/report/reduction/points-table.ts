import type { ReductionReport, ReportAxis } from '../../records/reports/reduction-report.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, fixed, kilometres, metresTo } from '../page/words/numbers.js';
import { byNeed } from '../page/words/by-need.js';
import { occupationCell } from '../page/words/occupation-cell.js';
import { table } from '../page/table.js';
import type { TableColumn } from '../page/table.js';

const NEED: Readonly<Record<ReducedPoint['verdict'], number>> = { rejected: 0, review: 1, accepted: 2 };

/** The points with the decimals of the data file, and why each is not simply accepted. */
export function pointsTable(report: ReductionReport): Markup {
  const { frame, geoid, points, pointsLeftOut, verdicts } = report;
  const all = verdicts.accepted + verdicts.review + verdicts.rejected;
  const [first, second] = frame.axes;
  const columns: readonly TableColumn[] = [
    { head: 'Point', kind: 'words' },
    { head: 'Occ.', kind: 'text' },
    { head: 'Verdict', kind: 'text' },
    axisColumn(first),
    axisColumn(second),
    geoid === null
      ? { head: 'h', unit: 'm, ellipsoidal', kind: 'number' }
      : { head: 'H', unit: 'm, orthometric', kind: 'number' },
    { head: 'Base', kind: 'words' },
    { head: 'Baseline', unit: 'km', kind: 'number' },
    { head: '95 %', unit: 'plan / height, m', kind: 'number' },
    { head: 'Epochs', unit: 'used / refused', kind: 'number' },
    { head: 'Reasons', kind: 'codes' },
  ];
  const leftOut =
    pointsLeftOut === 0
      ? ''
      : ` ${String(points.length)} of ${String(all)} rows are shown, those to look at first; the data file has all.`;
  const hasDoubts = verdicts.review + verdicts.rejected > 0;
  return table({
    label: 'Table of points',
    caption: markup`<b>Points.</b> ${frame.gridName}; fixes in ${frame.fixesName}${frame.epochYear === null ? '' : `, epoch ${fixed(frame.epochYear, 2)}`}.${geoid === null ? '' : ` Orthometric heights by ${geoid.name}.`} 95 % plan is the radius of a circle. Coordinates are written to a tenth of their uncertainty; the data file has every digit.${hasDoubts ? ' What is rejected stands first, then what is for review.' : ''}${leftOut}`,
    columns,
    rows: byNeed(
      points,
      ({ verdict }) => NEED[verdict],
      () => 0,
    ).map((point) => rowOf(point, geoid !== null)),
  });
}

function axisColumn(axis: ReportAxis): TableColumn {
  return {
    head: `${axis.abbreviation}, ${axis.name}`,
    unit: axis.unitName === 'metre' ? 'm' : axis.unitName,
    kind: 'number',
  };
}

function rowOf(point: ReducedPoint, hasGeoid: boolean): readonly (string | Markup)[] {
  const { position, summary } = point;
  const [planM, heightM] = [summary?.circle95M ?? null, summary?.vertical95M ?? null];
  return [
    named(point.pointId),
    occupationCell(point.occupation),
    point.verdict === 'accepted' ? point.verdict : markup`<span class="no">${point.verdict}</span>`,
    metresTo(position?.gridFirst ?? null, planM),
    metresTo(position?.gridSecond ?? null, planM),
    metresTo((hasGeoid ? position?.orthometricHeightM : position?.geodetic.ellipsoidalHeightM) ?? null, heightM),
    // An empty cell: the point is of no base.
    named(point.baseId ?? ''),
    kilometres(point.baseline?.distanceM ?? null),
    summary === null ? UNKNOWN : `${metresTo(planM, planM)} / ${metresTo(heightM, heightM)}`,
    `${String(point.epochsUsed)} / ${String(point.epochsRejected)}`,
    point.reasons.join(', '),
  ];
}
