import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { column } from '../../../io/tables/columns/column.js';
import type { Column, ColumnUnit } from '../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import type { SiteResidual, SiteResidualRow } from '../../../records/reports/parts/site-fit.js';

type ResidualColumn = Column<never, SiteResidualRow>;

const AXES = ['east', 'north', 'height'] as const;
/** Decimals of redundancies and of test values. */
const TEST_DECIMALS = 3;

/** One column for each axis of the site: a length where there is a unit, else the figure of a test. */
function ofAxes(
  stem: string,
  unit: ColumnUnit | null,
  get: (residual: SiteResidual) => number | null,
  describe: string,
): readonly ResidualColumn[] {
  return AXES.map((axis) =>
    column({
      name: unit === null ? `${stem}_${axis}` : `${stem}_${axis}_${unit}`,
      kind: 'number',
      ...(unit === null ? { decimals: TEST_DECIMALS } : { unit }),
      get: (row) => {
        const residual = row[axis];
        return residual === null ? null : get(residual);
      },
      describe,
    }),
  );
}

/** Columns of the residuals of a fit, in order. Residuals run along the site's east and north, whatever its axes. */
export function residualColumns(siteAxes: SiteAxes): readonly ResidualColumn[] {
  const residual = 'fitted, or predicted, minus control';
  const [east, north, height] = ofAxes('residual', 'm', ({ residualM }) => residualM, residual) as [
    ResidualColumn,
    ResidualColumn,
    ResidualColumn,
  ];
  return [
    column({ name: 'point_id', kind: 'id', get: (row) => row.pointId, describe: 'the control point' }),
    column({ name: 'role', kind: 'word', get: (row) => row.role, describe: 'what it was used for' }),
    column({
      name: siteAxes.columns[0],
      kind: 'number',
      decimals: DECIMALS.metres,
      get: ({ control }) => control.gridFirst,
      describe: 'control, along the axes of the site',
    }),
    column({
      name: siteAxes.columns[1],
      kind: 'number',
      decimals: DECIMALS.metres,
      get: ({ control }) => control.gridSecond,
      describe: 'control, along the axes of the site',
    }),
    east,
    north,
    column({
      name: 'residual_horizontal_m',
      kind: 'number',
      unit: 'm',
      get: horizontalM,
      describe: 'length of the residual in plan',
    }),
    height,
    ...ofAxes('sigma', 'm', ({ sigmaM }) => sigmaM, 'one sigma, of a check point of the difference'),
    ...ofAxes('redundancy', null, ({ redundancy }) => redundancy, 'redundancy number'),
    ...ofAxes('baarda', null, ({ baarda }) => baarda, 'test value with the sigmas stated'),
    ...ofAxes('pope', null, ({ pope }) => pope, 'test value with the sigma of the fit'),
    ...ofAxes('left_out', 'm', ({ leftOutM }) => leftOutM, 'residual of the fit without the point'),
    ...ofAxes('detectable', 'm', ({ detectableM }) => detectableM, 'smallest blunder that would be found'),
    column({ name: 'verdict', kind: 'word', get: (row) => row.verdict, describe: '`within`, `review` or `no`' }),
    column({ name: 'reasons', kind: 'codes', get: (row) => row.reasons, describe: 'codes, with semicolons between' }),
  ];
}

/** Length of the residual in plan; null where there is none. */
export function horizontalM({ east, north }: SiteResidualRow): number | null {
  return east === null || north === null ? null : Math.hypot(east.residualM, north.residualM);
}
