import { ONE, fromText } from '../../explanation/fixed-decimals.js';
import { evaluate } from '../../explanation/formula.js';
import { circleHolding, sigmasHolding, withinCircle, withinSigmas } from '../normal.js';
import { given } from '../worked-numbers.js';
import type { Lesson, Worked } from '../worked-numbers.js';

/** K of the 95 % circle of an ellipse whose axes have this ratio, by the integral of the page. */
function circle95(ratio: number): number {
  return Number(evaluate('circle95(c)', new Map([['c', fromText(ratio.toFixed(15))]]))) / Number(ONE);
}

/** The roots of the two variances of QP-12, of the covariance that the page shows. */
function axesOf(lesson: Lesson): readonly [number, number] {
  const [ee = NaN, en = NaN, nn = NaN] = lesson.shown(/C_EE = (\S+) mm²; C_EN = (\S+) mm²; C_NN = (\S+) mm²/u);
  const wave = Math.hypot((nn - ee) / 2, en);
  return [Math.sqrt((ee + nn) / 2 + wave), Math.sqrt((ee + nn) / 2 - wave)];
}

const RATIOS = [0, 0.2, 0.4, 0.6, 0.8, 0.9, 1] as const;

export const ELLIPSE: readonly Worked[] = [
  { says: '| # % | 1 | the standard ellipse', are: () => [100 * withinCircle(1)] },
  { says: '| # % | # | with equal axes: circular', are: () => [50, circleHolding(0.5)] },
  {
    says: '| # % | # | with equal axes: distance',
    are: () => [100 * withinCircle(Math.SQRT2), Math.SQRT2],
  },
  { says: '| # % | # | the 95 % ellipse', are: () => [95, circleHolding(0.95)] },
  { says: '| # % | # | with equal axes: twice', are: () => [100 * withinCircle(2 * Math.SQRT2), 2 * Math.SQRT2] },
  {
    says: 'holds # %, and not # % as one axis does',
    are: () => [100 * withinCircle(1), 100 * withinSigmas(1)],
  },
  {
    says: 'k = # is for one axis; in plan it holds # %',
    are: () => [sigmasHolding(0.95), 100 * withinCircle(sigmasHolding(0.95))],
  },
  {
    says: 'from the rounded # and # mm and the column `correlation_en` it comes out as #°',
    are: async (lesson) => {
      await lesson.printed(
        'pegbook reduce-points examples/quillback-pan/fixes.csv --session examples/quillback-pan/session.toml -q -o points.csv',
      );
      const row = lesson.rows('points.csv').find((one) => one['point_id'] === 'QP-12');
      const [east, north] = [Number(row?.['sigma_east_m']) * 1000, Number(row?.['sigma_north_m']) * 1000];
      const covariance = Number(row?.['correlation_en']) * east * north;
      return [east, north, 180 + (Math.atan2(2 * covariance, north ** 2 - east ** 2) * 90) / Math.PI];
    },
  },
  { says: '| c | # | # | # | # | # | # | # |', are: () => RATIOS },
  { says: '| K | # | # | # | # | # | # | # |', are: () => RATIOS.map(circle95) },
  {
    says: 'c = #/# = #, between # and #: K = # + # × # = #, and the circle',
    are: (lesson) => {
      const [long, short] = axesOf(lesson);
      const [low, step] = [circle95(0.8), circle95(0.9) - circle95(0.8)];
      const part = (short / long - 0.8) / 0.1;
      return [short, long, short / long, 0.8, 0.9, low, part, step, low + part * step];
    },
  },
  {
    says: 'the half difference #, w',
    are: ({ shown }) => {
      const [ee = NaN, , nn = NaN] = shown(/C_EE = (\S+) mm²; C_EN = (\S+) mm²; C_NN = (\S+) mm²/u);
      return [(nn - ee) / 2];
    },
  },
  {
    says: 'The axes are # and # mm, times # it is # and # mm',
    are: (lesson) => {
      const [axes, k] = [axesOf(lesson), circleHolding(0.95)];
      return [...axes, k, ...axes.map((axis) => k * axis)];
    },
  },
  {
    says: '= ½ atan2(−#, #) = −#°, which is #°',
    are: ({ shown }) => {
      const [ee = NaN, en = NaN, nn = NaN] = shown(/C_EE = (\S+) mm²; C_EN = (\S+) mm²; C_NN = (\S+) mm²/u);
      const azimuth = (Math.atan2(2 * en, nn - ee) * 90) / Math.PI;
      return [2 * en, nn - ee, azimuth, azimuth + 180];
    },
  },
  {
    says: '# σ is #/√2 = # times RMSE_r',
    are: () => [circleHolding(0.95), circleHolding(0.95), circleHolding(0.95) / Math.SQRT2],
  },
  given('A data sheet says CEP # mm', 10),
  {
    says: 'the integral itself gives #.)',
    are: (lesson) => {
      const [long, short] = axesOf(lesson);
      return [circle95(short / long)];
    },
  },
  {
    says: 'DRMS holds # % for equal axes.',
    are: () => [100 * withinCircle(Math.SQRT2)],
  },
  {
    says: 'why books say “# to # %”',
    are: () => [100 * withinCircle(Math.SQRT2), 100 * withinSigmas(1)],
  },
  { says: 'the one axis that is left, and holds # %', are: () => [100 * withinSigmas(1)] },
  {
    says: 'Twice DRMS holds # to # %',
    are: () => [100 * withinCircle(2 * Math.SQRT2), 100 * withinSigmas(2)],
  },
  {
    says: 'in # of 100 good surveys: 1 − #²⁰ − 20 × # × #¹⁹ = #',
    are: () => {
      const two = 1 - 0.95 ** 20 - 20 * 0.05 * 0.95 ** 19;
      return [100 * two, 0.95, 0.05, 0.95, two];
    },
  },
  { says: 'up to # % for a needle', are: () => [100 * withinSigmas(circleHolding(0.95))] },
];

export const FIVE_SECONDS: readonly Worked[] = [
  {
    says: 'The stand is QP-12, # km from the base',
    are: ({ shown }) => {
      const there = shown(/= X (\S+) m, Y (\S+) m, Z (\S+) m/u);
      const base = shown(/known: X_k = (\S+) m; Y_k = (\S+) m; Z_k = (\S+) m/u, 'base-coordinate.md');
      return [Math.hypot(...there.map((one, axis) => one - (base[axis] ?? NaN))) / 1000];
    },
  },
];
