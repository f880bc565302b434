import { chiSquareUpperTail } from '../../numeric/distributions/chi-square.js';
import { FALSE_CAUSE_LEVEL, LEFT_OVER_LEVEL, REST_LOUD_LEVEL } from '../decision-levels.js';
import type { CauseContext, CauseFamily } from './cause-context.js';
import type { CauseFinding } from './cause-finding.js';
import { CAUSE_COUNT } from './cause-ids.js';
import type { CauseId } from './cause-ids.js';
import { chanceOfDrop } from './cause-level.js';
import type { CauseModel } from './cause-model.js';
import { across, fitWhitened, isAcross, withDirections } from './whitener.js';
import type { WhitenedFit } from './whitener.js';

/** A finding with what a further search needs. */
export interface Found {
  readonly finding: CauseFinding;
  readonly unknowns: number;
  /** Taken off the drop in χ² to give the gain. */
  readonly penalty: number;
  /** The whitened residuals it leaves. */
  readonly rest: Float64Array;
  /** Its known part and its columns, whitened. */
  readonly fixed: Float64Array | null;
  readonly columns: readonly Float64Array[];
}

/** Gains nearer than this do not tell causes apart. */
export const ALIKE = 2;
/** Two causes whose patterns differ by less than this in units of the noise, squared, say the same of these residuals … */
const SAME_PATTERN = 4;
/** … unless one of them is this much less plausible. */
const VERY_STRONG = 10;
/** A shift of any direction is not significantly nearer than a plate's: 99 % of χ² with the two unknowns it has more. */
const SAME_SHIFT: number = -2 * Math.log(0.01);
const MOST_OTHER_FORMS = 3;

/** Every form of these families that gains, open or not, and how many were looked at. */
export function searchForms(
  families: readonly CauseFamily[],
  context: CauseContext,
): { readonly found: readonly Found[]; readonly tested: number } {
  const before = sumOfSquares(context.values);
  const found: Found[] = [];
  let tested = 0;
  for (const family of families) {
    for (const model of family(context)) {
      tested += 1;
      const one = findingOf(model, context, before);
      if (one !== null) found.push(one);
    }
  }
  return { found, tested };
}

/** The best form of each cause, best first; those that are open before those that chance explains. */
export function rankCauses(found: readonly Found[]): readonly Found[] {
  const forms = new Map<CauseId, Found[]>();
  for (const one of found) {
    const same = forms.get(one.finding.cause);
    if (same === undefined) forms.set(one.finding.cause, [one]);
    else same.push(one);
  }
  return [...forms.values()].map(bestForm).sort(byGain);
}

/** The day once a finding is taken off: its known part is gone, and what follows is fitted together with its unknowns. */
export function without(context: CauseContext, { fixed, columns }: Pick<Found, 'fixed' | 'columns'>): CauseContext {
  const values = fixed === null ? context.values : context.values.map((value, i) => value - (fixed[i] as number));
  const taken = withDirections(context.taken, columns);
  return { ...context, values: across(values, taken), taken };
}

/**
 * Whether residuals cannot tell a cause from a better one: both leave noise alone, and their gains or their patterns are
 * one. A pattern with many more unknowns covers any other and is not alike for it.
 */
export function isAlike(first: Found, other: Found): boolean {
  const behind = first.finding.gain - other.finding.gain;
  if (first.finding.explains && !other.finding.explains) return false;
  if (behind < ALIKE) return true;
  if (isSameStand(first.finding, other.finding) || isSameShift(first, other)) return true;
  if (!first.finding.explains || Math.abs(first.unknowns - other.unknowns) > 1 || behind >= VERY_STRONG) return false;
  return sumOfSquares(first.rest.map((value, i) => value - (other.rest[i] as number))) < SAME_PATTERN;
}

/** One occupation of a point occupied once: its initialisation and the point's coordinate make the same offset of any kind. */
function isSameStand(a: CauseFinding, b: CauseFinding): boolean {
  const pair = [a.cause, b.cause];
  return (
    pair.includes('wrong-integer') &&
    pair.includes('control-coordinate') &&
    a.stand?.isOnlyOfPoint === true &&
    a.stand.name === b.stand?.name
  );
}

/** A plate's motion over one day's area is one shift of all points, as a wrong base coordinate is: unless that fits significantly better, they are one. */
function isSameShift(first: Found, other: Found): boolean {
  if (first.finding.cause !== 'epoch' || other.finding.cause !== 'base-coordinate') return false;
  return first.finding.chiSquareAfter - other.finding.chiSquareAfter < SAME_SHIFT;
}

/** Open before not, then by gain. */
function byGain({ finding: a }: Found, { finding: b }: Found): number {
  return Number(b.isOpen) - Number(a.isOpen) || b.gain - a.gain;
}

/** The best, where chance does not explain it. */
export function openFirst(ranked: readonly Found[]): Found | undefined {
  return ranked[0]?.finding.isOpen === true ? ranked[0] : undefined;
}

/** Of one form or more that with the largest gain, the first of equals, with the names of those near it. */
function bestForm(forms: readonly Found[]): Found {
  const [best, ...others] = [...forms].sort(byGain) as [Found, ...Found[]];
  const { finding } = best;
  const near = others
    .filter((other) => finding.gain - other.finding.gain < ALIKE)
    .map((other) => other.finding.subject);
  return {
    ...best,
    finding: {
      ...finding,
      alsoFits: [...new Set(near)].filter((subject) => subject !== finding.subject).slice(0, MOST_OTHER_FORMS),
    },
  };
}

function findingOf(model: CauseModel, context: CauseContext, chiSquareBefore: number): Found | null {
  const { values, whitener, taken } = context;
  const whiten = (vector: Float64Array): Float64Array => (model.isWhitened ? vector : whitener.whiten(vector));
  const known = model.fixed === null ? null : whiten(model.fixed);
  const fixed = known === null ? null : across(known, taken);
  const target = fixed === null ? values : values.map((value, i) => value - (fixed[i] as number));
  const whole = model.columns.map(whiten);
  const columns = whole.map((column) => across(column, taken));
  if (taken.length > 0 && columns.some((column, i) => !isAcross(column, whole[i] as Float64Array))) return null;
  const fit =
    columns.length === 0
      ? { chiSquare: sumOfSquares(target), estimates: [], sigmas: [] }
      : fitWhitened(target, columns);
  if (fit === null || !Number.isFinite(fit.chiSquare)) return null;
  const n = values.length - taken.length;
  const unknowns = columns.length;
  const drop = chiSquareBefore - fit.chiSquare;
  const restTail = n > unknowns ? chiSquareUpperTail(fit.chiSquare, n - unknowns) : 0;
  const explains = restTail >= LEFT_OVER_LEVEL;
  // What is left passes for noise, of a noisier day: the gain is judged by it, and not by what was stated.
  const isRestLoud = explains && restTail < REST_LOUD_LEVEL;
  const chance = chanceOfDrop({
    drop:
      drop *
      beyondOrdinary(
        fit,
        model.ordinary?.map((size) => size * context.noiseFactor),
      ),
    chiSquareAfter: fit.chiSquare,
    values: n,
    unknowns,
    hasFixed: fixed !== null,
    choices: model.choices,
    isNoiseEstimated: context.noiseFactor !== 1 || isRestLoud,
  });
  const penalty =
    unknowns * Math.log(values.length) +
    2 * Math.log(model.choices) +
    2 * Math.log(CAUSE_COUNT) +
    // Most models are as plausible whatever their estimates.
    (model.implausibility?.(fit.estimates) ?? 0);
  const gain = drop - penalty;
  if (!(gain > 0)) return null;
  const estimates = model.read(fit.estimates, fit.sigmas);
  if (estimates === null) return null;
  const rest = target.map(
    (value, i) =>
      value - columns.reduce((sum, column, k) => sum + (fit.estimates[k] as number) * (column[i] as number), 0),
  );
  const rmsAfterM = rms(whitener.colour(rest));
  return {
    finding: {
      cause: model.cause,
      subject: model.subject,
      estimates,
      chiSquareAfter: fit.chiSquare,
      rmsAfterM,
      gain,
      chance,
      isOpen: chance <= FALSE_CAUSE_LEVEL,
      explains,
      alsoFits: [],
      stand: model.stand ?? null,
    },
    unknowns,
    penalty,
    rest,
    fixed: known,
    columns: whole,
  };
}

/** Share of a drop in χ² that stays where sizes are sought beyond those of an ordinary day, larger on a noisy one: their variances add to those of the fit. */
function beyondOrdinary(
  { estimates, sigmas }: Pick<WhitenedFit, 'estimates' | 'sigmas'>,
  ordinary: readonly number[] | undefined,
): number {
  if (ordinary === undefined) return 1;
  const squares = (scale: (i: number) => number): number =>
    estimates.reduce((sum, estimate, i) => sum + estimate ** 2 / scale(i), 0);
  const own = squares((i) => (sigmas[i] as number) ** 2);
  return own > 0 ? squares((i) => (sigmas[i] as number) ** 2 + (ordinary[i] as number) ** 2) / own : 0;
}

/** Square of the length. */
export function sumOfSquares(values: Float64Array): number {
  let sum = 0;
  for (const value of values) sum += value * value;
  return sum;
}

/** Root of the mean square; 0 of none. */
export function rms(values: Float64Array): number {
  return values.length === 0 ? 0 : Math.sqrt(sumOfSquares(values) / values.length);
}
