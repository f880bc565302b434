import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { MOVED_LEAD, MOVED_LEVEL } from '../decision-levels.js';
import { cusumChart } from './cusum-chart.js';
import type { CusumChart } from './cusum-chart.js';
import { MOST_REGISTER_ROWS, searchMovements } from './movement-search.js';
import type { Movement } from './movement-search.js';
import { registerInnovations } from './register-innovations.js';
import type { RegisterSeries } from './register-series.js';

/** A chart, of what, and which of its values belongs to which epoch. */
export interface RegisterChart {
  readonly what: Movement['what'];
  /** Its place in the series. */
  readonly index: number;
  /** Epochs it has a value of, in order. */
  readonly epochs: readonly number[];
  /** Standardised deviations, one an epoch of its own; null: nothing tells it from the base that day. */
  readonly values: readonly (number | null)[];
  readonly chart: CusumChart;
}

/** What one axis shows. */
export interface AxisFinding {
  readonly charts: readonly RegisterChart[];
  /**
   * moved: a step that chance does not explain, seen in two epochs or more; moved-once: seen in the last epoch alone, where
   * a mistake of that day looks the same; off-once: a displacement of one epoch that the next has no more; chart-crossed: a
   * chart says so and the search does not; still: nothing.
   */
  readonly state: 'moved' | 'moved-once' | 'off-once' | 'chart-crossed' | 'still';
  /** The displacement that explains most, and the others that nothing tells from it; empty where the state is still. */
  readonly suspects: readonly Movement[];
}

/**
 * Whether a mark or a base has moved: a control chart for each mark and base in each axis, and a search for the step, or
 * the displacement of one epoch alone, that explains the residuals best.
 *
 * Given: residuals of each axis, of the same marks and bases. Returned: one finding an axis, in their order; null where an
 * axis has more rows than `MOST_REGISTER_ROWS`.
 *
 * Note: where one mark or base is named, the charts of the others are those of the residuals without its step, which would
 * otherwise stand in them too: what still crosses is of something else.
 * Note: one displacement an axis is looked for; where two things moved, the one that explains more is named first.
 *
 * @example
 * // A mark that lies 1 m higher from the third day on than on the first two: moved, whatever the millimetres.
 * const days = [0, 0, 1, 1].map((residualM) => ({ base: 0, sharedM2: 0, rows: [{ mark: 0, residualM, ownM2: 1e-4 }] }));
 * judgeRegister([{ epochs: days, markM2: [null], baseM2: [0] }])?.[0]?.state; // 'moved'
 */
export function judgeRegister(axes: readonly RegisterSeries[]): readonly AxisFinding[] | null {
  const rowsOf = ({ epochs }: RegisterSeries): number => epochs.reduce((sum, { rows }) => sum + rows.length, 0);
  if (axes.some((series) => rowsOf(series) > MOST_REGISTER_ROWS)) return null;
  const searches = axes.map(searchMovements);
  const tried = searches.reduce((sum, search) => sum + search.tried, 0);
  // Shared evenly over every displacement tried (Šidák): steps that differ by a day are alike, so that the true chance is less.
  const limit = tried === 0 ? Infinity : chiSquareQuantile((1 - MOVED_LEVEL) ** (1 / tried), 1);
  return axes.map((series, axis) => {
    const charts = chartsOf(series);
    const { best } = searches[axis] as (typeof searches)[number];
    const first = best[0];
    if (first !== undefined && first.gain > limit) {
      const suspects = best.filter(({ gain }) => first.gain - gain < MOVED_LEAD);
      const isOne = suspects.every(({ what, index }) => what === first.what && index === first.index);
      const shown = isOne ? withoutStep(series, first, charts) : charts;
      return { charts: shown, state: stateOf(first, suspects), suspects };
    }
    const crossed = charts.filter(({ chart }) => chart.signal !== null);
    const suspects = best.filter(({ what, index }) => crossed.some((own) => own.what === what && own.index === index));
    return { charts, state: crossed.length > 0 ? 'chart-crossed' : 'still', suspects };
  });
}

/** One epoch alone is off only where no step says as much: what moved is the graver. */
function stateOf(first: Movement, suspects: readonly Movement[]): AxisFinding['state'] {
  const step = first.kind === 'step' ? first : suspects.find(({ kind }) => kind === 'step');
  if (step === undefined) return 'off-once';
  return step.epochs > 1 ? 'moved' : 'moved-once';
}

/** Charts as they are with a displacement of one mark or base taken out of the residuals, but for the chart of that one. */
function withoutStep(
  series: RegisterSeries,
  { what, index, kind, from, sizeM }: Movement,
  charts: readonly RegisterChart[],
): readonly RegisterChart[] {
  const mended = {
    ...series,
    epochs: series.epochs.map((epoch, at) => {
      if (at < from || (kind === 'alone' && at > from) || (what === 'base' && epoch.base !== index)) return epoch;
      const isMoved = (mark: number): boolean => what === 'base' || mark === index;
      return {
        ...epoch,
        rows: epoch.rows.map((row) => (isMoved(row.mark) ? { ...row, residualM: row.residualM - sizeM } : row)),
      };
    }),
  };
  const own = (chart: RegisterChart): boolean => chart.what === what && chart.index === index;
  return chartsOf(mended).map((chart) => (own(chart) ? (charts.find(own) ?? chart) : chart));
}

function chartsOf(series: RegisterSeries): readonly RegisterChart[] {
  const innovations = registerInnovations(series);
  const values = new Map<string, [epochs: number[], values: (number | null)[]]>();
  const put = (what: Movement['what'], index: number, epoch: number, value: number | null): void => {
    const key = `${what} ${String(index)}`;
    const own = values.get(key) ?? [[], []];
    own[0].push(epoch);
    own[1].push(value);
    values.set(key, own);
  };
  for (const [epoch, { base, rows }] of series.epochs.entries()) {
    const innovation = innovations[epoch] as (typeof innovations)[number];
    put('base', base, epoch, innovation.base);
    for (const [row, { mark }] of rows.entries()) put('mark', mark, epoch, innovation.marks[row] ?? null);
  }
  const chartOf = (what: Movement['what'], index: number): readonly RegisterChart[] => {
    const own = values.get(`${what} ${String(index)}`);
    return own === undefined ? [] : [{ what, index, epochs: own[0], values: own[1], chart: cusumChart(own[1]) }];
  };
  return [
    ...series.markM2.flatMap((_, index) => chartOf('mark', index)),
    ...series.baseM2.flatMap((_, index) => chartOf('base', index)),
  ];
}
