import type { DayAtBaseline, DayPart, DayVariance } from '../../../records/reports/parts/day-variance.js';
import { chiSquareUpperTail } from '../../numeric/distributions/chi-square.js';
import { dayContrasts, gathered, sampleOf, splitContrasts } from './day-contrasts.js';
import type { DayContrasts, DayPoint, Sample } from './day-contrasts.js';
import {
  criterionAt,
  estimatedAllowance,
  factorAtTail,
  likeliestFactor,
  sampleVariance,
  tailAt,
  weightedSquares,
} from './day-variance.js';
import type { ContrastArrays, DayVarianceEstimate } from './day-variance.js';
import type { BaselineContrast } from './stand-contrasts.js';
import { BLUNDER_IN_DAY_LEVEL, NOISE_OF_ALL_LEVEL, NOISE_PART_LEAD, NOISY_DAY_LEVEL } from '../decision-levels.js';

/** The contrasts of one point. */
export interface ContrastedPoint extends DayPoint {
  readonly contrasts: readonly BaselineContrast[];
}

/** What a day says; nothing of it is applied yet. */
export type DayNoise = Omit<DayVariance, 'isApplied'>;

const PARTS: readonly DayPart[] = ['growing', 'all'];
/** Bounds of the classes that it is said for, metres: those between which the correlation times of the planning model change. */
const BOUNDS = [0, 10_000, 20_000, Infinity] as const;
/** Points left out; where more would be, they are the noise. */
const MOST_LEFT_OUT = 20;
const LARGEST_SHARE_LEFT_OUT = 1 / 3;
/** Share of the points, at least one, without which the others must still say that the day was noisier: blunders too small to be seen as such. */
const SHARE_LEFT_ASIDE = 1 / 6;

/**
 * How the precision of a day compares with the planning model, by all contrasts of the day at once.
 *
 * One factor, of what grows with the baseline or, where that is clearly likelier, of all of the model. The day is noisier where the test of
 * the factor says so at `NOISY_DAY_LEVEL`, shared over the two, and where the points without the sixth that says most for it (at least
 * one) say so by themselves at `NOISE_OF_ALL_LEVEL`: noise is everywhere, and blunders are not. A point that differs by more
 * than the upper end of what those that differ less say of the noise allows, at `BLUNDER_IN_DAY_LEVEL` over the points, is left out
 * of the estimate, and those that differ more with it.
 *
 * Given: contrasts by point. Returned: null where nothing says anything.
 */
export function noisyDay(points: readonly DayPoint[]): DayNoise | null {
  const day = dayContrasts(points);
  const found = PARTS.flatMap((part) => {
    const one = partOf(part, day);
    return one === null ? [] : [one];
  });
  const [first, second] = found;
  if (first === undefined) return null;
  return (second === undefined || !isBetter(second, first) ? first : second).day;
}

/** Points by their numbers, and what is asked of them by one part. */
interface SplitDay {
  readonly starts: Int32Array;
  /** Of all points, one after another. */
  readonly contrasts: ContrastArrays;
  readonly sampled: (points: readonly number[]) => Sample | null;
}

interface FoundPart {
  readonly day: DayNoise;
  /** −2 ln likelihood of all that neither leaves out. */
  readonly criterion: (leftOut: ReadonlySet<string>) => number;
}

/** Two parts are held against each other on the points that both keep. */
function isBetter(second: FoundPart, first: FoundPart): boolean {
  if (first.day.isNoisier !== second.day.isNoisier) return second.day.isNoisier;
  const leftOut = new Set([...first.day.leftOut, ...second.day.leftOut]);
  return second.criterion(leftOut) < first.criterion(leftOut) - NOISE_PART_LEAD;
}

function partOf(part: DayPart, whole: DayContrasts): FoundPart | null {
  const { pointIds, starts } = whole;
  const split = splitContrasts(whole, part);
  const all = pointIds.map((_, point) => point);
  const day: SplitDay = { starts, contrasts: split, sampled: (points) => sampleOf(whole, split, points, part) };
  const { kept, leftOut } = withoutBlunders(all, day);
  const sample = day.sampled(kept);
  if (sample === null) return null;
  const found = sampleVariance(sample.contrasts, sample.links);
  const isNoisier =
    found.factor > 1 &&
    Number.isFinite(found.factor) &&
    found.probability < NOISY_DAY_LEVEL / PARTS.length &&
    isOfAll(kept, day);
  return {
    day: {
      part,
      points: kept.length,
      contrasts: sample.contrasts.difference.length,
      ...found,
      allowed: found.factor * estimatedAllowance(found.degreesOfFreedom),
      isNoisier,
      byBaseline: byBaseline(kept, whole, split, found),
      leftOut: leftOut.map((point) => pointIds[point] as string),
    },
    criterion: (without) =>
      criterionAt(
        gathered(
          split,
          all.filter((point) => !without.has(pointIds[point] as string)),
          starts,
        ),
        Math.max(found.factor, 1),
      ),
  };
}

/** From the points that differ least upwards: blunders must not hide each other in what is taken for noise. */
function withoutBlunders(
  points: readonly number[],
  day: SplitDay,
): { readonly kept: readonly number[]; readonly leftOut: readonly number[] } {
  const { starts, contrasts, sampled } = day;
  const calm = sampled(bySize(points, day, 1).slice(doubted(points.length)));
  const sorted = bySize(
    points,
    day,
    calm === null ? 1 : Math.max(1, Math.min(likeliestFactor(calm.contrasts, calm.links), Number.MAX_SAFE_INTEGER)),
  );
  for (let place = Math.min(MOST_LEFT_OUT, doubted(points.length)) - 1; place >= 0; place -= 1) {
    const rest = sorted.slice(place + 1);
    if (rest.length < 2) continue;
    const own = sorted[place] as number;
    const [start, end] = [starts[own] as number, starts[own + 1] as number];
    const level = BLUNDER_IN_DAY_LEVEL / points.length;
    // Seldom beyond what the model allows, and then the noise of the others is asked for.
    if (chiSquareUpperTail(weightedSquares(contrasts, 1, start, end), end - start) >= level) continue;
    const sample = sampled(rest);
    const high = sample === null ? 1 : Math.max(1, factorAtTail(sample.contrasts, sample.links, 0.975));
    if (chiSquareUpperTail(weightedSquares(contrasts, high, start, end), end - start) < level)
      return { kept: rest, leftOut: sorted.slice(0, place + 1) };
  }
  return { kept: sorted, leftOut: [] };
}

/** How many of so many points may be blunders. */
function doubted(points: number): number {
  return Math.max(1, Math.floor(points * LARGEST_SHARE_LEFT_OUT));
}

/** Whether the noise is that of all points, and not of those that say most for it. */
function isOfAll(points: readonly number[], { starts, contrasts, sampled }: SplitDay): boolean {
  const sorted = sortedBy(points, (point) => {
    // What a point says for larger noise where the model is right.
    let sum = 0;
    for (let place = starts[point] as number; place < (starts[point + 1] as number); place += 1) {
      const [differenceM, modelM2] = [contrasts.difference[place] as number, contrasts.model[place] as number];
      sum += (modelM2 * differenceM * differenceM) / (modelM2 + (contrasts.other[place] as number)) ** 2;
    }
    return sum;
  });
  const rest = sampled(sorted.slice(Math.max(1, Math.floor(points.length * SHARE_LEFT_ASIDE))));
  return rest !== null && tailAt(rest.contrasts, rest.links, 1) < NOISE_OF_ALL_LEVEL;
}

/** Those first that differ most for what a factor allows. */
function bySize(points: readonly number[], { starts, contrasts }: SplitDay, factor: number): readonly number[] {
  return sortedBy(points, (point) => {
    const [start, end] = [starts[point] as number, starts[point + 1] as number];
    return weightedSquares(contrasts, factor, start, end) / (end - start);
  });
}

function sortedBy(points: readonly number[], sizeOf: (point: number) => number): readonly number[] {
  const sizes = new Float64Array(points.reduce((most, point) => Math.max(most, point), -1) + 1);
  for (const point of points) sizes[point] = sizeOf(point);
  return points.toSorted((a, b) => (sizes[b] as number) - (sizes[a] as number));
}

/** What the factor of the part makes of the whole model, by the points of each class of length. */
function byBaseline(
  kept: readonly number[],
  { starts, baselineM, constant, growing }: DayContrasts,
  { model }: ContrastArrays,
  { factor, low95, high95 }: DayVarianceEstimate,
): readonly DayAtBaseline[] {
  return BOUNDS.slice(0, -1).flatMap((fromM, index): readonly DayAtBaseline[] => {
    const toM = BOUNDS[index + 1] as number;
    const own = kept.filter((point) => (baselineM[point] as number) >= fromM && (baselineM[point] as number) < toM);
    if (own.length === 0) return [];
    let [contrasts, ofPart, ofModel] = [0, 0, 0];
    for (const point of own) {
      const [start, end] = [starts[point] as number, starts[point + 1] as number];
      let [part, all] = [0, 0];
      for (let place = start; place < end; place += 1) {
        part += model[place] as number;
        all = all + (constant[place] as number) + (growing[place] as number);
      }
      contrasts += end - start;
      ofPart += part;
      ofModel += all;
    }
    const share = ofPart / ofModel;
    const whole = (value: number): number => (share > 0 ? 1 + share * (value - 1) : 1);
    return [
      {
        fromM,
        toM,
        points: own.length,
        contrasts,
        factor: whole(factor),
        low95: whole(low95),
        high95: whole(high95),
      },
    ];
  });
}
