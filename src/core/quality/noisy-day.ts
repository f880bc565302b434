import { chiSquareUpperTail } from '../numeric/chi-square.js';
import { dayVariance, weightedSquares } from './day-variance.js';
import type { ClassVariance, ContrastClass } from './day-variance.js';
import { BLUNDER_IN_DAY_LEVEL, NOISE_OF_ALL_LEVEL } from './decision-levels.js';
import type { BaselineContrast } from './stand-contrasts.js';

/** The contrasts of one point. */
export interface ContrastedPoint {
  readonly pointId: string;
  readonly contrasts: readonly BaselineContrast[];
}

/** What a class of baselines says, once points that stand out are taken off. */
export interface DayClass extends ClassVariance {
  readonly points: number;
  /** Points that differ by more than the noise of the others can: a blunder, and no noise. */
  readonly leftOut: readonly string[];
}

/** Bounds of the classes, metres: those between which the correlation times of the planning model change. */
const BOUNDS = [0, 10_000, 20_000, Infinity] as const;
/** Points so left out of one class; where more would be, they are the noise. */
const MOST_LEFT_OUT = 20;
const LARGEST_SHARE_LEFT_OUT = 1 / 3;

/**
 * How the precision of a day compares with the planning model, from the repeats of all its points.
 *
 * A class of baselines is called noisier where `dayVariance` says so and where, without the third of its points that differ most
 * (at least one), the others still lie above the model at `NOISE_OF_ALL_LEVEL`: noise is everywhere, and blunders are not. A point that
 * differs by more than the upper end of what those that differ less say of the noise allows, at `BLUNDER_IN_DAY_LEVEL` over the
 * points, is left out of the estimate, and those that differ more with it.
 *
 * Given: contrasts by point. Returned: one entry for each class that holds any, in order of length.
 */
export function noisyDay(points: readonly ContrastedPoint[]): readonly DayClass[] {
  const classes = BOUNDS.slice(0, -1).map((fromM, index) => {
    const toM = BOUNDS[index + 1] as number;
    const groups = points.flatMap(({ pointId, contrasts }): readonly ContrastedPoint[] => {
      const own = contrasts.filter(({ baselineM }) => baselineM >= fromM && baselineM < toM);
      return own.length === 0 ? [] : [{ pointId, contrasts: own }];
    });
    return { fromM, toM, ...withoutBlunders(groups) };
  });
  const held = classes.filter(({ kept }) => kept.length > 0);
  const found = dayVariance(held.map(({ fromM, toM, kept }) => ({ fromM, toM, contrasts: allOf(kept) })));
  return found.map((own, index): DayClass => {
    const { kept, leftOut } = held[index] as (typeof held)[number];
    return { ...own, isNoisier: own.isNoisier && isOfAll(kept), points: kept.length, leftOut };
  });
}

/** From the points that differ least upwards: blunders must not hide each other in what is taken for noise. */
function withoutBlunders(groups: readonly ContrastedPoint[]): { readonly kept: readonly ContrastedPoint[]; readonly leftOut: readonly string[] } {
  const sorted = bySize(groups);
  for (let place = Math.min(MOST_LEFT_OUT, doubted(groups.length)) - 1; place >= 0; place -= 1) {
    const own = sorted[place]?.contrasts ?? [];
    const rest = sorted.slice(place + 1);
    if (rest.length < 2) continue;
    const high = Math.max(1, dayVariance([anyLength(rest)])[0]?.high95 ?? Infinity);
    if (chiSquareUpperTail(weightedSquares(own, high), own.length) < BLUNDER_IN_DAY_LEVEL / groups.length) return { kept: rest, leftOut: sorted.slice(0, place + 1).map(({ pointId }) => pointId) };
  }
  return { kept: sorted, leftOut: [] };
}

/** How many of so many points may be blunders. */
function doubted(points: number): number {
  return Math.max(1, Math.floor(points * LARGEST_SHARE_LEFT_OUT));
}

/** Whether the noise is that of all points, and not of those that differ most. */
function isOfAll(groups: readonly ContrastedPoint[]): boolean {
  const rest = allOf(bySize(groups).slice(doubted(groups.length)));
  return rest.length > 0 && chiSquareUpperTail(weightedSquares(rest, 1), rest.length) < NOISE_OF_ALL_LEVEL;
}

/** Those first that differ most for what the model allows. */
function bySize(groups: readonly ContrastedPoint[]): readonly ContrastedPoint[] {
  const sized = groups.map((group) => ({ group, size: weightedSquares(group.contrasts, 1) / group.contrasts.length }));
  return sized.sort((a, b) => b.size - a.size).map(({ group }) => group);
}

function allOf(groups: readonly ContrastedPoint[]): readonly BaselineContrast[] {
  return groups.flatMap(({ contrasts }) => contrasts);
}

function anyLength(groups: readonly ContrastedPoint[]): ContrastClass {
  return { fromM: 0, toM: Infinity, contrasts: allOf(groups) };
}
