// What a search for causes is counted as, for tools/cause-rates.mjs and the test of its rates.

/** Pairs of blunders that are planted together, with their sizes, metres. */
export const PHYSICAL_PAIRS = [
  [
    ['wrong-integer', 'wrong-integer'],
    [0.4, 0.4],
  ],
  [
    ['wrong-integer', 'pole-length'],
    [0.4, 0.4],
  ],
  [
    ['control-coordinate', 'wrong-integer'],
    [0.3, 0.4],
  ],
  [
    ['base-coordinate', 'control-coordinate'],
    [0.5, 0.3],
  ],
];

/** Whether two causes are named, one for each of two names, or tied with it. */
export function namesBoth(report, [a, b]) {
  if (report?.verdict !== 'two-causes') return false;
  const [first, second] = report.together.map(({ finding, alike }) => [finding.cause, ...alike]);
  return (first.includes(a) && second.includes(b)) || (first.includes(b) && second.includes(a));
}

/** The cause first named, all named or tied, and one word for the answer; noise beside a cause is no cause more. */
export function outcomeOf(report) {
  if (report === null) return { first: 'no answer', tied: [], word: 'no answer' };
  if (report.verdict === 'named')
    return {
      first: report.findings[0].cause,
      tied: [report.findings[0].cause, ...report.alike],
      word: report.findings[0].cause,
    };
  if (report.verdict !== 'two-causes') return { first: report.verdict, tied: [], word: report.verdict };
  const causes = report.together.map(({ finding }) => finding.cause);
  const physical = causes.filter((cause) => cause !== 'noise');
  return {
    first: physical.length === 1 ? physical[0] : 'two-causes',
    tied: report.together.flatMap(({ finding, alike }) => [finding.cause, ...alike]),
    word: causes.join(' + '),
  };
}

/** One-sided 90 % of the standard normal distribution. */
const NINETY = 1.2816;

/**
 * Whether a mistake is as large as the least that the search's test of it finds in nine of ten days of the stated noise:
 * pᵀC⁻¹p of its pattern p at least (√limit + 1.28)², the limit that of F at the share of the level each form has.
 */
export function createSight({ createWhitener, dayCovariance, observationList, fQuantile, noiseDegrees, level }) {
  return (quietDay, { unknowns, forms, ordinary }, planted) => {
    const list = observationList(quietDay);
    const whitener = createWhitener(dayCovariance(quietDay, list), list.count);
    const pattern = whitener.whiten(list.values);
    const whole = Math.hypot(...pattern);
    // A size that ordinary days have too is seen only beyond it.
    const size = ordinary === undefined ? whole : planted / Math.hypot(planted / whole, ordinary);
    const tail = level / forms;
    const limit =
      unknowns === 0
        ? fQuantile(1 - 2 * tail, 1, noiseDegrees)
        : unknowns * fQuantile(1 - tail, unknowns, noiseDegrees);
    return size >= Math.sqrt(limit) + NINETY;
  };
}
