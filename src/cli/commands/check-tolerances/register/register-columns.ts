import { column } from '../../../../io/tables/columns/column.js';
import type { Column, ColumnUnit } from '../../../../io/tables/columns/column.js';
import type { CheckAxes } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RegisterAxis, RegisterRow } from '../../../../records/reports/register-report.js';

type RegisterColumn = Column<never, RegisterRow>;

/** A trend of some millimetres a year is seen in metres a day with seven decimals. */
const TREND_DECIMALS = 7;
const SUM_DECIMALS = 2;

/** What an axis is called in outputs. */
export function registerAxisName(axis: RegisterAxis, { first, second }: CheckAxes): string {
  return axis === 'up' ? 'height' : axis === 'first' ? first : second;
}

function number(
  name: string,
  written: { readonly unit: ColumnUnit } | { readonly decimals: number },
  get: (row: RegisterRow) => number | null,
  describe: string,
): RegisterColumn {
  return column({ name, kind: 'number', ...written, get, describe });
}

function text(name: string, get: (row: RegisterRow) => string | null, describe: string): RegisterColumn {
  return column({ name, kind: 'text', get, describe });
}

function word(name: string, get: (row: RegisterRow) => string | null, describe: string): RegisterColumn {
  return column({ name, kind: 'word', get, describe });
}

const TREND = 'by the medians of all pairs of set-ups (Theil–Sen)';
const SUMS = 'largest cumulative sum';

/** Columns of a register of control, in order. */
export function registerColumns(axes: CheckAxes): readonly RegisterColumn[] {
  const trend = { decimals: TREND_DECIMALS };
  const sums = { decimals: SUM_DECIMALS };
  return [
    word('what', ({ what }) => what, '`mark` of the control, or `base`'),
    text('point_id', ({ id }) => id, 'its name'),
    word('axis', ({ axis }) => registerAxisName(axis, axes), 'an axis of the system, or `height`'),
    column({
      name: 'set_ups',
      kind: 'whole',
      get: ({ values }) => values.length,
      describe: 'base set-ups that have a residual of it',
    }),
    text('first_day', ({ values }) => values[0]?.day ?? null, 'the day of the first of them'),
    text('last_day', ({ values }) => values.at(-1)?.day ?? null, 'and of the last'),
    number('mean_m', { unit: 'm' }, ({ meanM }) => meanM, 'mean of measured minus control; of a base, over its marks'),
    number('spread_m', { unit: 'm' }, ({ spreadM }) => spreadM, 'their standard deviation'),
    number('trend_m_per_day', trend, ({ trend: own }) => own?.slope ?? null, TREND),
    number('trend_low_95_m_per_day', trend, ({ trend: own }) => own?.interval?.low ?? null, 'its interval of 95 %'),
    number('trend_high_95_m_per_day', trend, ({ trend: own }) => own?.interval?.high ?? null, 'from five set-ups on'),
    number('upper_sum', sums, (row) => row.largestUpper, `${SUMS} upwards, in sigmas; the limit is 5`),
    number('lower_sum', sums, (row) => row.largestLower, 'and downwards'),
    text('chart_day', ({ signal }) => signal?.day ?? null, 'where a sum is above its limit first; empty: nowhere'),
    word('chart_direction', ({ signal }) => signal?.direction ?? null, '`up` or `down`'),
    text('chart_began_day', ({ signal }) => signal?.beganDay ?? null, 'since when that sum has been above zero'),
    text(
      'moved_from_day',
      ({ movement }) => movement?.fromDay ?? null,
      'first day with a displacement; empty: none is believed',
    ),
    word(
      'moved_kind',
      ({ movement }) => movement?.kind ?? null,
      '`step`: from that day on; `alone`: in one set-up of that day',
    ),
    number(
      'moved_m',
      { unit: 'm' },
      ({ movement }) => movement?.sizeM ?? null,
      'the displacement, in the sense of the residuals',
    ),
    number('moved_sigma_m', { unit: 'm' }, ({ movement }) => movement?.sigmaM ?? null, 'one sigma of it'),
    word('verdict', ({ verdict }) => verdict, '`within`, `review` or `no`'),
    column({ name: 'reasons', kind: 'codes', get: ({ reasons }) => reasons, describe: 'codes, see problem codes' }),
  ];
}
