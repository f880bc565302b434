import { entryAt } from '../../../records/present.js';
import type { Place } from '../shapes.js';

/** Of so many ellipses each is drawn. */
const MOST_WHOLE = 60;
/** Of more: those of what fails or is in doubt, and so many of the largest. */
export const MOST_LARGEST = 24;
/** Side of a square of the plan that the others share, in units of the drawing. */
const SQUARE = 76;

/** What an ellipse stands for; `stays`: its point fails or is in doubt. */
export interface DensityOf<T> {
  readonly placeOf: (item: T) => Place;
  readonly sizeM: (item: T) => number;
  readonly stays: (item: T) => boolean;
}

/** The ellipses of a plan: some as they are, the others by squares of the plan. */
export interface EllipseDensity<T> {
  readonly drawn: readonly T[];
  /** How many of these stay because they fail or are in doubt. */
  readonly stayed: number;
  /** The middle of the places in a square, and the median size of its ellipses. */
  readonly squares: readonly { readonly at: Place; readonly sizeM: number; readonly count: number }[];
}

/** Which ellipses of a plan are drawn: all of few; of many those that fail or are in doubt, unless these are many, and the largest; the others by the median of their square. */
export function ellipseDensity<T>(items: readonly T[], { placeOf, sizeM, stays }: DensityOf<T>): EllipseDensity<T> {
  if (items.length <= MOST_WHOLE) return { drawn: items, stayed: 0, squares: [] };
  const doubted = items.filter(stays);
  // Where nearly all fail their signs say so, and their ellipses are the usual ones.
  const stayed = doubted.length > MOST_WHOLE ? [] : doubted;
  const kept = new Set(stayed);
  const others = items.filter((item) => !kept.has(item)).toSorted((a, b) => sizeM(b) - sizeM(a));
  const groups = new Map<string, T[]>();
  for (const item of others.slice(MOST_LARGEST)) {
    const { x, y } = placeOf(item);
    const square = `${String(Math.floor(x / SQUARE))} ${String(Math.floor(y / SQUARE))}`;
    const own = groups.get(square);
    if (own === undefined) groups.set(square, [item]);
    else own.push(item);
  }
  const squares = [...groups.values()].map((own) => {
    const places = own.map(placeOf);
    const mean = (of: (place: Place) => number): number =>
      places.reduce((sum, place) => sum + of(place), 0) / places.length;
    return { at: { x: mean(({ x }) => x), y: mean(({ y }) => y) }, sizeM: middle(own.map(sizeM)), count: own.length };
  });
  return { drawn: [...others.slice(0, MOST_LARGEST), ...stayed], stayed: stayed.length, squares };
}

/** What a caption says of it: how many of each; empty where all are drawn. */
export function densityWords({ drawn, stayed, squares }: EllipseDensity<unknown>): string {
  if (squares.length === 0) return '';
  const rest = squares.reduce((sum, { count }) => sum + count, 0);
  const largest = drawn.length - stayed;
  const kept =
    stayed === 0
      ? `the ${String(largest)} largest are drawn`
      : `${String(stayed)} of points that fail or are for review and the ${String(largest)} largest of the others are drawn`;
  return ` Of ${String(largest + stayed + rest)} ellipses ${kept}; the other ${String(rest)} stand as ${String(squares.length)} pale discs, each as large as the median of its square of the plan.`;
}

/** Median; of an even number the upper one. */
function middle(sizes: readonly number[]): number {
  return entryAt(
    sizes.toSorted((a, b) => a - b),
    Math.floor(sizes.length / 2),
  );
}
