import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { DECIMALS } from '../../../io/tables/columns/decimals.js';
import type { SiteAxes } from '../../../core/adjustment/site-axes.js';
import type { SiteResidual, SiteResidualRow } from '../../../records/reports/site-fit.js';
import { answerOfSiteRow } from '../../../tasks/site/site-answer.js';
import type { RecordColumn } from '../../outputs/record-writer.js';

const AXES = ['east', 'north', 'height'] as const;
/** Decimals of redundancies and of test values. */
const TEST_DECIMALS = 3;

const cell = (value: number | null | undefined, decimals: number): string =>
  value == null ? '' : formatFixed(value, decimals);

/** Columns of the residuals of a fit, in order. Residuals run along the site's east and north, whatever its axes. */
export function residualColumns(siteAxes: SiteAxes): readonly RecordColumn[] {
  const of = (stem: string, unit: string): readonly string[] => AXES.map((axis) => `${stem}_${axis}${unit}`);
  const numbers = [
    ...siteAxes.columns,
    'residual_east_m',
    'residual_north_m',
    'residual_horizontal_m',
    'residual_height_m',
    ...of('sigma', '_m'),
    ...of('redundancy', ''),
    ...of('baarda', ''),
    ...of('pope', ''),
    ...of('left_out', '_m'),
    ...of('detectable', '_m'),
  ];
  return [
    { name: 'point_id', kind: 'text' },
    { name: 'role', kind: 'text' },
    ...numbers.map((name): RecordColumn => ({ name, kind: 'number' })),
    { name: 'verdict', kind: 'text' },
    { name: 'reasons', kind: 'text' },
  ];
}

/** The cells of a control point under `residualColumns`. */
export function residualCells(row: SiteResidualRow): readonly string[] {
  const { east, north, height } = row;
  const all: readonly (SiteResidual | null)[] = [east, north, height];
  const of = (pick: (residual: SiteResidual) => number | null, decimals: number): readonly string[] =>
    all.map((residual) => (residual === null ? '' : cell(pick(residual), decimals)));
  const m = DECIMALS.metres;
  return [
    row.pointId,
    row.role,
    cell(row.control.gridFirst, m),
    cell(row.control.gridSecond, m),
    cell(east?.residualM, m),
    cell(north?.residualM, m),
    cell(horizontalM(row), m),
    cell(height?.residualM, m),
    ...of((r) => r.sigmaM, m),
    ...of((r) => r.redundancy, TEST_DECIMALS),
    ...of((r) => r.baarda, TEST_DECIMALS),
    ...of((r) => r.pope, TEST_DECIMALS),
    ...of((r) => r.leftOutM, m),
    ...of((r) => r.detectableM, m),
    answerOfSiteRow(row),
    row.reasons.join(';'),
  ];
}

/** Length of the residual in plan; null where there is none. */
export function horizontalM({ east, north }: SiteResidualRow): number | null {
  return east === null || north === null ? null : Math.hypot(east.residualM, north.residualM);
}
