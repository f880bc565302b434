import type { ReportAxis, ReportPlace } from '../../../records/reports/reduction-report.js';
import { entryAt } from '../../../records/present.js';

/** What a plan shows of places, and what lies so far off that the rest would shrink to a dot. */
export interface PlanExtent<T> {
  readonly near: readonly T[];
  readonly far: readonly T[];
}

const LEAST_PLACES = 5;
/** Places farther than so many times the distance that nine of ten keep from the middle are left out. */
const FAR = 8;
const MOST_OF = 0.9;
const MOST_NAMED = 5;

/** Parts places into near and far. Given: places and the axes they are in. */
export function planExtent<T>(
  items: readonly T[],
  axes: readonly [ReportAxis, ReportAxis],
  placeOf: (item: T) => ReportPlace,
): PlanExtent<T> {
  if (items.length < LEAST_PLACES) return { near: items, far: [] };
  const places = items.map(placeOf);
  const middle = {
    first: middleOf(places.map(({ first }) => first)),
    second: middleOf(places.map(({ second }) => second)),
  };
  const distances = places.map(({ first, second }) =>
    Math.hypot((first - middle.first) * axes[0].metresPerUnit, (second - middle.second) * axes[1].metresPerUnit),
  );
  const sorted = [...distances].sort((a, b) => a - b);
  const usual = entryAt(sorted, Math.floor(MOST_OF * (sorted.length - 1)));
  const isFar = (index: number): boolean => usual > 0 && entryAt(distances, index) > FAR * usual;
  return { near: items.filter((_, index) => !isFar(index)), far: items.filter((_, index) => isFar(index)) };
}

function middleOf(values: readonly number[]): number {
  return entryAt(
    [...values].sort((a, b) => a - b),
    Math.floor(values.length / 2),
  );
}

/** What a caption says of places left out because they lie far off; empty where there are none. */
export function farWords(names: readonly string[]): string {
  if (names.length === 0) return '';
  const more = names.length - MOST_NAMED;
  const listed = names.slice(0, MOST_NAMED).join(', ');
  return ` Far outside and not drawn: ${listed}${more > 0 ? ` and ${String(more)} more` : ''}.`;
}
