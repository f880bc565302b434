import type { CauseDay, CausePoint } from './cause-day.js';
import type { CauseFinding, CauseReport } from './cause-finding.js';
import { usableCovariance } from './day-covariance.js';
import { rms, sumOfSquares } from './form-search.js';
import { observationList } from './observation-list.js';
import { entryAt } from '../../../records/present.js';

/** A cause in the noise that is stated is believed beside repeats that show more noise where it gains so much more: odds of 150. */
const LEAD_OVER_REPEATS = 10;

/**
 * The residuals in the noise that the repeats of the day show, which they know nothing of: what is only large because everything
 * is noisy accuses nobody.
 *
 * Given: what the search said in the noise that is stated; the day; the search. Returned: what it says in the noise of the day, or that noise as the
 * cause where nothing is left to explain; null where the day shows none, or where what was said gains far more than the noise does: a
 * mistake that is in the repeats too makes them look noisy, and explains the residuals better than noise.
 */
export function inNoiseOfDay(
  stated: CauseReport,
  day: CauseDay,
  search: (day: CauseDay) => CauseReport | null,
): CauseReport | null {
  if (!day.points.some(({ dayNoise }) => dayNoise !== undefined)) return null;
  const louder: CauseDay = { ...day, points: day.points.map(withNoise) };
  const [before, after] = [criterionOf(day), criterionOf(louder)];
  const report = search(louder);
  if (before === null || after === null || report === null) return null;
  const gain = before.criterion - after.criterion;
  if (gainOf(stated) > gain + LEAD_OVER_REPEATS) return null;
  if (report.verdict !== 'nothing-to-explain') return { ...report, tested: stated.tested + report.tested };
  const finding: CauseFinding = {
    cause: 'noise',
    subject: 'as the repeats of the day show',
    estimates: [{ name: 'factor_of_standard_deviations', value: factorOf(day), sigma: null, unit: 'times' }],
    chiSquareAfter: after.chiSquare,
    rmsAfterM: stated.rmsBeforeM,
    gain,
    chance: 0,
    isOpen: true,
    explains: true,
    alsoFits: [],
    stand: null,
  };
  return {
    ...stated,
    verdict: 'named',
    tested: stated.tested + report.tested,
    findings: [finding],
    alike: [],
    together: [],
    thenSingles: [],
  };
}

function withNoise(point: CausePoint): CausePoint {
  const { dayNoise, ...rest } = point;
  const { covariance } = point;
  if (dayNoise === undefined) return point;
  return {
    ...rest,
    covariance: {
      ...covariance,
      eeM2: covariance.eeM2 + dayNoise.planM2,
      nnM2: covariance.nnM2 + dayNoise.planM2,
      uuM2: covariance.uuM2 + dayNoise.upM2,
    },
  };
}

/** −2 ln likelihood of noise alone, but for a constant; null where the covariance cannot be used. */
function criterionOf(day: CauseDay): { readonly criterion: number; readonly chiSquare: number } | null {
  const list = observationList(day);
  const usable = usableCovariance(day, list);
  if (usable === null) return null;
  const { whitener } = usable;
  const chiSquare = sumOfSquares(whitener.whiten(list.values));
  return { criterion: whitener.logDeterminant + chiSquare, chiSquare };
}

/** What was named gains; nothing where nothing was. */
function gainOf({ verdict, findings, together }: CauseReport): number {
  if (verdict === 'named') return entryAt(findings, 0).gain;
  return verdict === 'two-causes' ? together.reduce((sum, { finding }) => sum + finding.gain, 0) : 0;
}

/** Root mean square of how much larger the standard deviations of the measurements are for it. */
function factorOf({ points }: CauseDay): number {
  const ratios = points.flatMap(({ covariance: { eeM2, nnM2, uuM2 }, dayNoise }) =>
    dayNoise === undefined
      ? [1]
      : [
          Math.sqrt(1 + dayNoise.planM2 / eeM2),
          Math.sqrt(1 + dayNoise.planM2 / nnM2),
          Math.sqrt(1 + dayNoise.upM2 / uuM2),
        ],
  );
  return rms(Float64Array.from(ratios));
}
