import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { DISTURBED_LEVEL } from '../decision-levels.js';
import { baseCauses } from './hypotheses/base-causes.js';
import type { CauseContext, CauseFamily } from './cause-context.js';
import type { CauseDay } from './cause-day.js';
import type { CauseFinding, CauseReport, JointFinding } from './cause-finding.js';
import { controlCauses } from './hypotheses/control-causes.js';
import { coordinateCauses } from './hypotheses/coordinate-causes.js';
import { datumCauses } from './hypotheses/datum-causes.js';
import { noiseCovariance, usableCovariance } from './day-covariance.js';
import { distanceCauses } from './hypotheses/distance-causes.js';
import { epochCauses } from './hypotheses/epoch-causes.js';
import { ALIKE, isAlike, openFirst, rankCauses, rms, searchForms, sumOfSquares, without } from './form-search.js';
import type { Found } from './form-search.js';
import { heightCauses } from './hypotheses/height-causes.js';
import { inNoiseOfDay } from './noise-of-day.js';
import { chanceBeside } from './long-tails.js';
import { noiseCause } from './hypotheses/noise-cause.js';
import type { NoiseGrowth } from './hypotheses/noise-cause.js';
import { observationList } from './observation-list.js';
import { occupationCauses } from './hypotheses/occupation-causes.js';
import { systemCauses } from './hypotheses/system-causes.js';
import { twoCauses } from './hypotheses/two-causes.js';
import type { FoundPair } from './hypotheses/two-causes.js';

export type { CauseFinding, CauseReport, JointFinding } from './cause-finding.js';

const FAMILIES: readonly CauseFamily[] = [
  baseCauses,
  heightCauses,
  datumCauses,
  epochCauses,
  coordinateCauses,
  systemCauses,
  distanceCauses,
  occupationCauses,
  controlCauses,
];
/** Causes in one stand, one run of stands or one point: what is sought beside another. */
const SINGLES: readonly CauseFamily[] = [occupationCauses, controlCauses];
/** Values needed before anything is named. */
const LEAST_VALUES = 6;
const SHOWN = 5;
/** Single occupations sought after a first cause. */
const MOST_SINGLES = 3;
/** Gains that differ by less are one: two causes and a cause with the one occupation that stands out beside it are the same words. The first is said. */
const SAME_GAIN = 0.01;
/** Times that a cause and the noise are fitted in turn. */
const NOISE_TURNS = 3;
/** More points than this are not searched whole: time grows with the cube. */
export const MOST_CAUSE_POINTS = 150;

/**
 * Ranks the physical causes that could have made a day's residuals.
 *
 * Each cause predicts a pattern, known or with a few unknown sizes. With r the residuals and C their covariance, its
 * criterion is χ² + k ln n + 2 ln m + 2 ln c: χ² = min (r − f − Aθ)ᵀC⁻¹(r − f − Aθ), k unknowns, n values, m forms it
 * was chosen from, c causes. The gain is rᵀC⁻¹r minus that. A cause opens by its own drop in χ², whatever the sum over
 * all values: when the chance that noise gives any form of any cause such a drop is below `FALSE_CAUSE_LEVEL`. It is
 * named when what it leaves agrees with the noise. Where none does, noise larger than stated, two causes together, and
 * one cause in larger noise are tried; the one that gains most is named. Else no single cause explains the residuals.
 *
 * Where the repeats of the day show that it was noisier than stated, the residuals are searched in that noise: see `inNoiseOfDay`.
 *
 * Given: the day, at most `MOST_CAUSE_POINTS` points (the caller thins more). Returned: see `CauseReport`; null where the
 * covariance cannot be used.
 *
 * Notes:
 * 1. A cause that is named is the likeliest of those tested, not a proof.
 * 2. Causes that make the same pattern on this day are given as alike, whichever has the larger gain: a cause of stated
 *    size and one whose size was found to be the same cannot be told apart by residuals.
 *
 * Reference: SCHWARZ-1978 for the penalty of unknowns; the penalty of choice and the limits are ours,
 * docs/methods/likely-cause.md, with rates from simulation.
 */
export function likelyCause(day: CauseDay): CauseReport | null {
  const stated = searchOnce(day);
  return stated === null || stated.verdict === 'nothing-to-explain' || stated.verdict === 'too-few-values'
    ? stated
    : (inNoiseOfDay(stated, day, searchOnce) ?? stated);
}

function searchOnce(day: CauseDay): CauseReport | null {
  const list = observationList(day);
  const empty = {
    observations: list.count,
    rmsBeforeM: rms(list.values),
    tested: 0,
    findings: [],
    alike: [],
    together: [],
    thenSingles: [],
  } as const;
  if (list.count < LEAST_VALUES) return { ...empty, chiSquareBefore: 0, isDisturbed: false, verdict: 'too-few-values' };
  const usable = usableCovariance(day, list);
  if (usable === null) return null;
  const { covariance, whitener } = usable;
  const values = whitener.whiten(list.values);
  const context: CauseContext = {
    day,
    list,
    whitener,
    values,
    taken: [],
    noiseFactor: 1,
    hasHorizontal: list.axisOf.some((axis) => axis < 2),
    hasVertical: list.axisOf.includes(2),
  };
  const chiSquareBefore = sumOfSquares(values);
  const { found, tested } = searchForms(FAMILIES, context);
  const ranked = rankCauses(found);
  const isBeyond = chiSquareBefore > chiSquareQuantile(1 - DISTURBED_LEVEL, list.count);
  const before = { ...empty, chiSquareBefore, tested, isDisturbed: isBeyond || openFirst(ranked) !== undefined };
  if (!before.isDisturbed) return { ...before, verdict: 'nothing-to-explain' };
  const one = single(ranked, context);
  const growth = (): NoiseGrowth => ({
    covariance,
    plan: noiseCovariance(day, list, { plan: true, height: false }),
    height: noiseCovariance(day, list, { plan: false, height: true }),
  });
  // No single cause gains anything.
  const answers = [one, ...(isBeyond ? inNoise(context, growth(), one?.gain ?? 0) : [])];
  const left = one === null ? unexplained(context, ranked) : null;
  // More than one cause is sought only where one does not do: more would fit any day that one fits.
  if (left !== null) answers.push(pairOf(twoCauses(found, context, FAMILIES, SINGLES)), left.explains ? left : null);
  const [best, ...others] = answers
    .filter((answer) => answer !== null)
    .sort((a, b) => Math.round(b.gain / SAME_GAIN) - Math.round(a.gain / SAME_GAIN));
  if (best === undefined) return { ...before, ...(left ?? unexplained(context, ranked)).report };
  const near = others
    .filter(
      (other) => best.gain - other.gain < ALIKE && other.report.verdict === 'named' && best.report.verdict === 'named',
    )
    .flatMap(({ report }) => report.findings.slice(0, 1));
  return {
    ...before,
    ...best.report,
    findings: [...best.report.findings.slice(0, 1), ...near, ...best.report.findings.slice(1)],
    alike: [...near.map(({ cause }) => cause), ...best.report.alike],
  };
}

type Words = Pick<CauseReport, 'verdict' | 'findings' | 'alike' | 'together' | 'thenSingles'>;

/** An explanation that leaves noise alone, and how much it gains. */
interface Answer {
  readonly gain: number;
  readonly report: Words;
}

/** The best single cause that leaves noise alone, those alike, and others that gain. */
function single(ranked: readonly Found[], context: CauseContext): Answer | null {
  const first = ranked.find(({ finding }) => finding.isOpen && finding.explains);
  if (first === undefined) return null;
  const alike = ranked.filter((other) => other !== first && isAlike(first, other));
  const chance = chanceBeside([first, ...alike], context);
  return {
    gain: first.finding.gain,
    report: {
      verdict: 'named',
      findings: shownOf(first, ranked, alike, chance),
      alike: [...alike.map(({ finding }) => finding.cause), ...chance.map(({ cause }) => cause)],
      together: [],
      thenSingles: [],
    },
  };
}

function pairOf(pair: FoundPair | null): Answer | null {
  return pair === null
    ? null
    : {
        gain: pair.gain,
        report: {
          verdict: 'two-causes',
          findings: pair.together.map(({ finding }) => finding),
          alike: [],
          together: pair.together,
          thenSingles: [],
        },
      };
}

/** The nearest cause, and the single occupations that stand out once it is taken off, in turn, each fitted with those before. */
function unexplained(context: CauseContext, ranked: readonly Found[]): Answer & { readonly explains: boolean } {
  const nearest = openFirst(ranked);
  const shared = { verdict: 'no-single-cause', together: [] } as const;
  if (nearest === undefined)
    return { gain: 0, explains: false, report: { ...shared, findings: [], alike: [], thenSingles: [] } };
  const alike = ranked.slice(1).filter((other) => isAlike(nearest, other));
  const singles: Found[] = [];
  let rest = without(context, nearest);
  while (singles.length < MOST_SINGLES && singles.at(-1)?.finding.explains !== true) {
    const next = openFirst(rankCauses(searchForms(SINGLES, rest).found));
    if (next === undefined) break;
    singles.push(next);
    rest = without(rest, next);
  }
  const gain = singles.reduce((sum, { finding }) => sum + finding.gain, nearest.finding.gain);
  return {
    gain,
    explains: singles.at(-1)?.finding.explains === true,
    report: {
      ...shared,
      findings: shownOf(nearest, ranked, alike, []),
      alike: alike.map(({ finding }) => finding.cause),
      thenSingles: singles.map(({ finding }) => finding),
    },
  };
}

/** The best, those alike first, chance the last of them. */
function shownOf(
  first: Found,
  ranked: readonly Found[],
  alike: readonly Found[],
  chance: readonly CauseFinding[],
): readonly CauseFinding[] {
  const tied = [first, ...alike];
  const others = ranked.filter((found) => found.finding.isOpen && !tied.includes(found));
  return [...tied.map(({ finding }) => finding), ...chance, ...others.map(({ finding }) => finding)].slice(
    0,
    Math.max(SHOWN, tied.length + chance.length),
  );
}

/**
 * What larger noise explains: alone where no cause stands out of it, else together with the one that does. The noise is
 * fitted to what the cause leaves and the cause against that noise, in turn.
 */
function inNoise(context: CauseContext, growth: NoiseGrowth, leastGain: number): readonly Answer[] {
  const { list } = context;
  let noise = noiseCause(list.values, growth, context);
  // Less than a cause that leaves noise as it is stated: nothing asks for more.
  if (noise === null || noise.finding.gain < leastGain - ALIKE) return [];
  const alone = noise;
  const before = sumOfSquares(context.values);
  let answer: Answer | null = null;
  for (let turn = 0; turn < NOISE_TURNS; turn += 1) {
    const { whitener } = noise;
    const louder: CauseContext = {
      ...context,
      whitener,
      values: whitener.whiten(list.values),
      noiseFactor: noise.factor,
    };
    const ranked = rankCauses(searchForms(FAMILIES, louder).found);
    const first = openFirst(ranked);
    if (first === undefined) break;
    const left = whitener.colour(first.rest);
    noise = noiseCause(left, growth, context);
    if (noise === null) return [];
    const tied = [first, ...ranked.slice(1).filter((other) => isAlike(first, other))];
    const alike = [
      ...tied.slice(1).map(({ finding }) => finding.cause),
      ...chanceBeside(tied, louder).map(({ cause }) => cause),
    ];
    const together: readonly JointFinding[] = [
      { finding: first.finding, alike },
      { finding: noise.finding, alike: [] },
    ];
    const gain = before - sumOfSquares(context.whitener.whiten(left)) + noise.finding.gain - first.penalty;
    answer = first.finding.explains
      ? {
          gain,
          report: {
            verdict: 'two-causes',
            findings: together.map(({ finding }) => finding),
            alike: [],
            together,
            thenSingles: [],
          },
        }
      : null;
    if (turn === NOISE_TURNS - 1) return answer === null ? [] : [answer];
  }
  if (answer !== null) return [answer];
  return noise === alone && alone.finding.explains
    ? [
        {
          gain: alone.finding.gain,
          report: { verdict: 'named', findings: [alone.finding], alike: [], together: [], thenSingles: [] },
        },
      ]
    : [];
}
