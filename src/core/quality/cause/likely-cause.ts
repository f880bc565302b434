import { chiSquareQuantile, chiSquareUpperTail } from '../../numeric/chi-square.js';
import { baseCauses } from './base-causes.js';
import type { CauseContext, CauseFamily } from './cause-context.js';
import type { CauseDay } from './cause-day.js';
import type { CauseId } from './cause-ids.js';
import type { CauseEstimate, CauseModel } from './cause-model.js';
import { coordinateCauses } from './coordinate-causes.js';
import { datumCauses } from './datum-causes.js';
import { dayCovariance } from './day-covariance.js';
import { distanceCauses } from './distance-causes.js';
import { epochCauses } from './epoch-causes.js';
import { heightCauses } from './height-causes.js';
import { observationList } from './observation-list.js';
import { occupationCauses } from './occupation-causes.js';
import { createWhitener, fitWhitened } from './whitener.js';

/** One cause, in its best form, with what it explains. */
export interface CauseFinding {
  readonly cause: CauseId;
  readonly subject: string;
  readonly estimates: readonly CauseEstimate[];
  /** χ² of the residuals once the cause is taken off. */
  readonly chiSquareAfter: number;
  /** RMS of all residuals together once it is taken off, metres. */
  readonly rmsAfterM: number;
  /** How much better than no cause, after penalties for freedom and choice: above 10 counts. */
  readonly gain: number;
  /** What is left agrees with the noise (χ² below its 99.9 % limit). */
  readonly explains: boolean;
  /** Other forms of this cause that explain about as much: their gain is within 2 of it; at most three. */
  readonly alsoFits: readonly string[];
}

/** What the search says. */
export interface CauseReport {
  readonly observations: number;
  readonly chiSquareBefore: number;
  readonly rmsBeforeM: number;
  /** The residuals do not agree with their noise (99 %). */
  readonly isDisturbed: boolean;
  readonly verdict: 'nothing-to-explain' | 'named' | 'no-single-cause' | 'too-few-values';
  /** Causes that gain, the best and those alike first; at most five, and all that are alike. */
  readonly findings: readonly CauseFinding[];
  /** Findings that these residuals cannot tell from the first: near in gain, or the same pattern of the same size. */
  readonly alike: readonly CauseId[];
  /** Where no single cause explains the residuals: what single occupations add once the first is taken off, in turn. */
  readonly thenSingles: readonly CauseFinding[];
}

/** A finding with the whitened residuals it leaves. */
interface Found {
  readonly finding: CauseFinding;
  readonly unknowns: number;
  readonly rest: Float64Array;
}

const FAMILIES: readonly CauseFamily[] = [baseCauses, heightCauses, datumCauses, epochCauses, coordinateCauses, distanceCauses, occupationCauses];
/** Odds against any one of the causes before looking: one in as many as there are. */
const CAUSES = 19;
/** A gain that counts as very strong evidence (Bayes factor of about 150). */
export const LEAST_GAIN = 10;
/** Values needed before anything is named. */
const LEAST_VALUES = 6;
const SHOWN = 5;
/** Gains nearer than this do not tell causes apart. */
const ALIKE = 2;
/** Two causes whose patterns differ by less than this in units of the noise, squared, say the same of these residuals. */
const SAME_PATTERN = 2;
const MOST_OTHER_FORMS = 3;
/** Single occupations sought after a first cause. */
const MOST_SINGLES = 3;
/** More points than this are not searched whole: time grows with the cube. */
export const MOST_CAUSE_POINTS = 150;

/**
 * Ranks the physical causes that could have made a day's residuals.
 *
 * Each cause predicts a pattern, known or with a few unknown sizes. With r the residuals and C their covariance, its
 * criterion is χ² + k ln n + 2 ln m + 2 ln 19: χ² = min (r − f − Aθ)ᵀC⁻¹(r − f − Aθ), k unknowns, n values, m forms it
 * was chosen from, 19 causes. The gain is rᵀC⁻¹r minus that. A cause is named when the residuals disagree with their
 * noise, its gain is 10 or more, and what it leaves agrees with the noise; else there is no single cause.
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
  const list = observationList(day);
  const rmsBeforeM = rms(list.values);
  const empty = { observations: list.count, rmsBeforeM, findings: [], alike: [], thenSingles: [] } as const;
  if (list.count < LEAST_VALUES) return { ...empty, chiSquareBefore: 0, isDisturbed: false, verdict: 'too-few-values' };
  const whitener = createWhitener(dayCovariance(day, list), list.count);
  if (whitener === null) return null;
  const values = whitener.whiten(list.values);
  const chiSquareBefore = sumOfSquares(values);
  if (chiSquareBefore <= chiSquareQuantile(0.99, list.count)) return { ...empty, chiSquareBefore, isDisturbed: false, verdict: 'nothing-to-explain' };
  const context: CauseContext = {
    day,
    list,
    whitener,
    values,
    hasHorizontal: list.axisOf.some((axis) => axis < 2),
    hasVertical: list.axisOf.includes(2),
  };
  const ranked = rankedOf(FAMILIES, context);
  const first = ranked[0]?.finding;
  const verdict = first?.explains === true ? 'named' : 'no-single-cause';
  const alike = ranked.slice(1).filter((other) => ranked[0] !== undefined && isAlike(ranked[0], other));
  const thenSingles = verdict === 'named' || ranked[0] === undefined ? [] : singlesAfter(context, ranked[0].rest);
  return { observations: list.count, chiSquareBefore, rmsBeforeM, isDisturbed: true, verdict, findings: shownOf(ranked, alike), alike: alike.map(({ finding }) => finding.cause), thenSingles };
}

/** Both leave noise alone, and their gains or their patterns are one; a pattern with many more unknowns covers any other. */
function isAlike(first: Found, other: Found): boolean {
  if (first.finding.explains && !other.finding.explains) return false;
  if (first.finding.gain - other.finding.gain < ALIKE) return true;
  if (!first.finding.explains || Math.abs(first.unknowns - other.unknowns) > 1) return false;
  return sumOfSquares(first.rest.map((value, i) => value - (other.rest[i] as number))) < SAME_PATTERN;
}

/** The best, those alike first. */
function shownOf(ranked: readonly Found[], alike: readonly Found[]): readonly CauseFinding[] {
  const tied = [...ranked.slice(0, 1), ...alike];
  return [...tied, ...ranked.filter((found) => !tied.includes(found))].slice(0, Math.max(SHOWN, tied.length)).map(({ finding }) => finding);
}

/** The best form of each cause that gains enough, best first. */
function rankedOf(families: readonly CauseFamily[], context: CauseContext): readonly Found[] {
  const best = new Map<CauseId, Found[]>();
  const before = sumOfSquares(context.values);
  for (const family of families) {
    for (const model of family(context)) {
      const found = findingOf(model, context, before);
      if (found === null) continue;
      const forms = best.get(model.cause);
      if (forms === undefined) best.set(model.cause, [found]);
      else forms.push(found);
    }
  }
  return [...best.values()].map(bestForm).sort((a, b) => b.finding.gain - a.finding.gain);
}

/** Of one form or more that with the largest gain, the first of equals, with the names of those near it. */
function bestForm(forms: readonly Found[]): Found {
  const [best, ...others] = [...forms].sort((a, b) => b.finding.gain - a.finding.gain) as [Found, ...Found[]];
  const { finding } = best;
  const near = others.filter((other) => finding.gain - other.finding.gain < ALIKE).map((other) => other.finding.subject);
  return { ...best, finding: { ...finding, alsoFits: [...new Set(near)].filter((subject) => subject !== finding.subject).slice(0, MOST_OTHER_FORMS) } };
}

/** Causes in single occupations, taken off one after another from what a first cause leaves. */
function singlesAfter(context: CauseContext, rest: Float64Array): readonly CauseFinding[] {
  const singles: CauseFinding[] = [];
  let values = rest;
  while (singles.length < MOST_SINGLES) {
    const [next] = rankedOf([occupationCauses], { ...context, values });
    if (next === undefined) break;
    singles.push(next.finding);
    if (next.finding.explains) break;
    values = next.rest;
  }
  return singles;
}

function findingOf(model: CauseModel, context: CauseContext, chiSquareBefore: number): Found | null {
  const { values, whitener } = context;
  const whiten = (vector: Float64Array): Float64Array => (model.isWhitened ? vector : whitener.whiten(vector));
  const fixed = model.fixed === null ? null : whiten(model.fixed);
  const target = fixed === null ? values : values.map((value, i) => value - (fixed[i] as number));
  const columns = model.columns.map(whiten);
  const fit = columns.length === 0 ? { chiSquare: sumOfSquares(target), estimates: [], sigmas: [] } : fitWhitened(target, columns);
  if (fit === null || !Number.isFinite(fit.chiSquare)) return null;
  const n = values.length;
  const unknowns = columns.length;
  const gain = chiSquareBefore - fit.chiSquare - unknowns * Math.log(n) - 2 * Math.log(model.choices) - 2 * Math.log(CAUSES);
  if (!(gain >= LEAST_GAIN)) return null;
  const estimates = model.read(fit.estimates, fit.sigmas);
  if (estimates === null) return null;
  const explains = n > unknowns && chiSquareUpperTail(fit.chiSquare, n - unknowns) >= 0.001;
  const rest = target.map((value, i) => value - columns.reduce((sum, column, k) => sum + (fit.estimates[k] as number) * (column[i] as number), 0));
  const rmsAfterM = rms(whitener.colour(rest));
  return { finding: { cause: model.cause, subject: model.subject, estimates, chiSquareAfter: fit.chiSquare, rmsAfterM, gain, explains, alsoFits: [] }, unknowns, rest };
}

function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}

function rms(values: Float64Array): number {
  return values.length === 0 ? 0 : Math.sqrt(sumOfSquares(values) / values.length);
}
