import type { DayAtBaseline, DayPart, DayVariance } from '../../../records/reports/parts/day-variance.js';
import { chiSquareUpperTail } from '../../numeric/distributions/chi-square.js';
import { contrastLinks } from './contrast-links.js';
import type { BaselineLink } from './contrast-links.js';
import {
  criterionAt,
  dayVariance,
  estimatedAllowance,
  factorAtTail,
  likeliestFactor,
  tailAt,
  weightedSquares,
} from './day-variance.js';
import type { Contrast, ContrastLink, DayVarianceEstimate } from './day-variance.js';
import { BLUNDER_IN_DAY_LEVEL, NOISE_OF_ALL_LEVEL, NOISE_PART_LEAD, NOISY_DAY_LEVEL } from '../decision-levels.js';
import type { BaselineContrast } from './stand-contrasts.js';

/** The contrasts of one point. */
export interface ContrastedPoint {
  readonly pointId: string;
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
export function noisyDay(points: readonly ContrastedPoint[]): DayNoise | null {
  const held = points.filter(({ contrasts }) => contrasts.length > 0);
  const all = held.flatMap(({ contrasts }) => contrasts);
  const links = contrastLinks(
    all,
    held.flatMap(({ contrasts }, point) => contrasts.map(() => point)),
  );
  let start = 0;
  const indexed = held.map((point): IndexedPoint => ({
    ...point,
    start: (start += point.contrasts.length) - point.contrasts.length,
  }));
  const found = PARTS.flatMap((part) => {
    const one = partOf(part, indexed, links);
    return one === null ? [] : [one];
  });
  const [first, second] = found;
  if (first === undefined) return null;
  return (second === undefined || !isBetter(second, first) ? first : second).day;
}

interface IndexedPoint extends ContrastedPoint {
  /** Place of its first contrast among those of the day. */
  readonly start: number;
}

/** A point, its variances divided by what a part multiplies and what it does not. */
interface SplitPoint {
  readonly pointId: string;
  readonly start: number;
  readonly baselineM: number;
  readonly contrasts: readonly Contrast[];
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

function partOf(part: DayPart, points: readonly IndexedPoint[], links: readonly BaselineLink[]): FoundPart | null {
  const split = points.map(({ pointId, start, contrasts }): SplitPoint => ({
    pointId,
    start,
    baselineM: contrasts.reduce((most, { baselineM }) => Math.max(most, baselineM), 0),
    contrasts: contrasts.map((contrast) => splitOf(contrast, part)),
  }));
  if (!split.some(({ contrasts }) => contrasts.some(({ modelM2 }) => modelM2 > 0))) return null;
  const sampled = (of: readonly SplitPoint[]): Sample | null => sampleOf(of, links, part);
  const { kept, leftOut } = withoutBlunders(split, sampled);
  const sample = sampled(kept);
  if (sample === null) return null;
  const found = dayVariance(sample.contrasts, sample.links);
  const contrasts = kept.reduce((sum, point) => sum + point.contrasts.length, 0);
  const isNoisier =
    found.factor > 1 &&
    Number.isFinite(found.factor) &&
    found.probability < NOISY_DAY_LEVEL / PARTS.length &&
    isOfAll(kept, sampled);
  const day = {
    part,
    points: kept.length,
    contrasts,
    ...found,
    allowed: found.factor * estimatedAllowance(found.degreesOfFreedom),
    isNoisier,
    byBaseline: byBaseline(kept, points, found),
    leftOut,
  };
  return {
    day,
    criterion: (without) =>
      criterionAt(
        split.filter(({ pointId }) => !without.has(pointId)).flatMap((point) => point.contrasts),
        Math.max(found.factor, 1),
      ),
  };
}

function splitOf({ differenceM, constantM2, growingM2, otherM2 }: BaselineContrast, part: DayPart): Contrast {
  return part === 'all'
    ? { differenceM, modelM2: constantM2 + growingM2, otherM2 }
    : { differenceM, modelM2: growingM2, otherM2: constantM2 + otherM2 };
}

/** Contrasts of some points, and what they share. */
interface Sample {
  readonly contrasts: readonly Contrast[];
  readonly links: readonly ContrastLink[];
}

/** The place of a contrast that is not in a sample. */
const LEFT_OUT = -1;

/** Null where none of them says anything of the part. */
function sampleOf(points: readonly SplitPoint[], links: readonly BaselineLink[], part: DayPart): Sample | null {
  const contrasts = points.flatMap((point) => point.contrasts);
  if (!contrasts.some(({ modelM2 }) => modelM2 > 0)) return null;
  // Few contrasts are linked: their places go into an array, and no table of all of them is made.
  const placeOf = new Int32Array(links.reduce((most, { second }) => Math.max(most, second), -1) + 1).fill(LEFT_OUT);
  let before = 0;
  for (const { start, contrasts: own } of points) {
    for (let index = 0; index < own.length && start + index < placeOf.length; index += 1)
      placeOf[start + index] = before + index;
    before += own.length;
  }
  const own = links.flatMap(({ first, second, constantM2, growingM2, pairs }): readonly ContrastLink[] => {
    const [a, b] = [placeOf[first] as number, placeOf[second] as number];
    if (a === LEFT_OUT || b === LEFT_OUT) return [];
    return [
      {
        first: a,
        second: b,
        ...(part === 'all'
          ? { modelM2: constantM2 + growingM2, otherM2: 0 }
          : { modelM2: growingM2, otherM2: constantM2 }),
        pairs,
      },
    ];
  });
  return { contrasts, links: own };
}

/** From the points that differ least upwards: blunders must not hide each other in what is taken for noise. */
function withoutBlunders(
  points: readonly SplitPoint[],
  sampled: (of: readonly SplitPoint[]) => Sample | null,
): { readonly kept: readonly SplitPoint[]; readonly leftOut: readonly string[] } {
  const calm = sampled(bySize(points, 1).slice(doubted(points.length)));
  const sorted = bySize(
    points,
    calm === null ? 1 : Math.max(1, Math.min(likeliestFactor(calm.contrasts, calm.links), Number.MAX_SAFE_INTEGER)),
  );
  for (let place = Math.min(MOST_LEFT_OUT, doubted(points.length)) - 1; place >= 0; place -= 1) {
    // With fewer points than may be left out there is none at this place, and too few are left.
    const own = sorted[place]?.contrasts ?? [];
    const rest = sorted.slice(place + 1);
    if (rest.length < 2) continue;
    const level = BLUNDER_IN_DAY_LEVEL / points.length;
    // Seldom beyond what the model allows, and then the noise of the others is asked for.
    if (chiSquareUpperTail(weightedSquares(own, 1), own.length) >= level) continue;
    const sample = sampled(rest);
    const high = sample === null ? 1 : Math.max(1, factorAtTail(sample.contrasts, sample.links, 0.975));
    if (chiSquareUpperTail(weightedSquares(own, high), own.length) < level)
      return { kept: rest, leftOut: sorted.slice(0, place + 1).map(({ pointId }) => pointId) };
  }
  return { kept: sorted, leftOut: [] };
}

/** How many of so many points may be blunders. */
function doubted(points: number): number {
  return Math.max(1, Math.floor(points * LARGEST_SHARE_LEFT_OUT));
}

/** Whether the noise is that of all points, and not of those that say most for it. */
function isOfAll(points: readonly SplitPoint[], sampled: (of: readonly SplitPoint[]) => Sample | null): boolean {
  const sorted = points.map((point) => ({ point, size: weighedSquares(point) })).sort((a, b) => b.size - a.size);
  const rest = sampled(
    sorted.slice(Math.max(1, Math.floor(points.length * SHARE_LEFT_ASIDE))).map(({ point }) => point),
  );
  return rest !== null && tailAt(rest.contrasts, rest.links, 1) < NOISE_OF_ALL_LEVEL;
}

/** What a point says for larger noise where the model is right. */
function weighedSquares({ contrasts }: SplitPoint): number {
  return contrasts.reduce(
    (sum, { differenceM, modelM2, otherM2 }) => sum + (modelM2 * differenceM * differenceM) / (modelM2 + otherM2) ** 2,
    0,
  );
}

/** Those first that differ most for what a factor allows. */
function bySize(points: readonly SplitPoint[], factor: number): readonly SplitPoint[] {
  const sized = points.map((point) => ({
    point,
    size: weightedSquares(point.contrasts, factor) / point.contrasts.length,
  }));
  return sized.sort((a, b) => b.size - a.size).map(({ point }) => point);
}

/** What the factor of the part makes of the whole model, by the points of each class of length. */
function byBaseline(
  kept: readonly SplitPoint[],
  points: readonly IndexedPoint[],
  { factor, low95, high95 }: DayVarianceEstimate,
): readonly DayAtBaseline[] {
  const models = new Map(
    points.map(({ start, contrasts }) => [
      start,
      contrasts.reduce((sum, { constantM2, growingM2 }) => sum + constantM2 + growingM2, 0),
    ]),
  );
  return BOUNDS.slice(0, -1).flatMap((fromM, index): readonly DayAtBaseline[] => {
    const toM = BOUNDS[index + 1] as number;
    const own = kept.filter(({ baselineM }) => baselineM >= fromM && baselineM < toM);
    if (own.length === 0) return [];
    const share =
      own.reduce((sum, point) => sum + point.contrasts.reduce((total, { modelM2 }) => total + modelM2, 0), 0) /
      own.reduce((sum, { start }) => sum + (models.get(start) ?? 0), 0);
    const whole = (value: number): number => (share > 0 ? 1 + share * (value - 1) : 1);
    return [
      {
        fromM,
        toM,
        points: own.length,
        contrasts: own.reduce((sum, point) => sum + point.contrasts.length, 0),
        factor: whole(factor),
        low95: whole(low95),
        high95: whole(high95),
      },
    ];
  });
}
