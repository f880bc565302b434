import type { DayPart } from '../../../records/reports/parts/day-variance.js';
import { LINKED_AXES, linkedStep, linksOf } from './contrast-links.js';
import type { BaselineLink } from './contrast-links.js';
import type { ContrastArrays, ContrastLink } from './day-variance.js';
import type { BaselineContrast } from './stand-contrasts.js';

/** The contrasts of one point; they may be made anew each time they are gone through. */
export interface DayPoint {
  readonly pointId: string;
  readonly contrasts: Iterable<BaselineContrast> & { readonly length: number };
}

/** The contrasts of a day in arrays, one point after another. */
export interface DayContrasts {
  readonly pointIds: readonly string[];
  /** By point where its contrasts begin, and of one more where the last end. */
  readonly starts: Int32Array;
  /** By point the longest baseline of its contrasts, metres. */
  readonly baselineM: Float64Array;
  readonly difference: Float64Array;
  readonly constant: Float64Array;
  readonly growing: Float64Array;
  readonly other: Float64Array;
  readonly links: readonly BaselineLink[];
}

/** Points without contrasts are left out. */
export function dayContrasts(points: readonly DayPoint[]): DayContrasts {
  const held = points.filter(({ contrasts }) => contrasts.length > 0);
  const starts = new Int32Array(held.length + 1);
  held.forEach(({ contrasts }, point) => {
    starts[point + 1] = (starts[point] as number) + contrasts.length;
  });
  const count = starts[held.length] as number;
  const [difference, constant, growing, other] = [
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
  ];
  const axes = new Uint8Array(count);
  const baselineM = new Float64Array(held.length);
  let place = 0;
  for (const [point, { contrasts }] of held.entries()) {
    let most = 0;
    for (const contrast of contrasts) {
      most = Math.max(most, contrast.baselineM);
      difference[place] = contrast.differenceM;
      constant[place] = contrast.constantM2;
      growing[place] = contrast.growingM2;
      other[place] = contrast.otherM2;
      axes[place] = LINKED_AXES.indexOf(contrast.axis);
      place += 1;
    }
    baselineM[point] = most;
  }
  return {
    pointIds: held.map(({ pointId }) => pointId),
    starts,
    baselineM,
    difference,
    constant,
    growing,
    other,
    links: linksOfDay(held, starts, axes),
  };
}

function linksOfDay(held: readonly DayPoint[], starts: Int32Array, axes: Uint8Array): readonly BaselineLink[] {
  const used = LINKED_AXES.map((_, axis) => {
    let count = 0;
    for (const own of axes) if (own === axis) count += 1;
    const step = linkedStep(count);
    const places: number[] = [];
    let seen = 0;
    axes.forEach((own, place) => {
      if (own !== axis) return;
      if (seen % step === 0) places.push(place);
      seen += 1;
    });
    return { count, places };
  });
  const pointOf = (place: number): number => {
    let [low, high] = [0, held.length - 1];
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((starts[middle] as number) <= place) low = middle;
      else high = middle - 1;
    }
    return low;
  };
  let last = -1;
  let contrasts: readonly BaselineContrast[] = [];
  const contrastAt = (place: number): BaselineContrast => {
    const point = pointOf(place);
    if (point !== last) contrasts = [...(held[point] as DayPoint).contrasts];
    last = point;
    return contrasts[place - (starts[point] as number)] as BaselineContrast;
  };
  return linksOf(used, contrastAt, pointOf);
}

/** The contrasts of a day, their variances divided by what a part multiplies and what it does not. */
export function splitContrasts({ difference, constant, growing, other }: DayContrasts, part: DayPart): ContrastArrays {
  const sum = (a: Float64Array, b: Float64Array): Float64Array => a.map((value, place) => value + (b[place] as number));
  return part === 'all'
    ? { difference, model: sum(constant, growing), other }
    : { difference, model: growing, other: sum(constant, other) };
}

/** Contrasts of some points, and what they share. */
export interface Sample {
  readonly contrasts: ContrastArrays;
  readonly links: readonly ContrastLink[];
}

/** The place of a contrast that is not in a sample. */
const LEFT_OUT = -1;

/** The contrasts of some points, in their order. */
export function gathered(of: ContrastArrays, points: readonly number[], starts: Int32Array): ContrastArrays {
  let length = 0;
  for (const point of points) length += (starts[point + 1] as number) - (starts[point] as number);
  const own = {
    difference: new Float64Array(length),
    model: new Float64Array(length),
    other: new Float64Array(length),
  };
  let at = 0;
  for (const point of points) {
    for (let place = starts[point] as number; place < (starts[point + 1] as number); place += 1) {
      own.difference[at] = of.difference[place] as number;
      own.model[at] = of.model[place] as number;
      own.other[at] = of.other[place] as number;
      at += 1;
    }
  }
  return own;
}

/** Null where none of the points says anything of the part. Given: the day; its contrasts by the part; the points. */
export function sampleOf(
  { starts, links }: DayContrasts,
  split: ContrastArrays,
  points: readonly number[],
  part: DayPart,
): Sample | null {
  const contrasts = gathered(split, points, starts);
  if (!contrasts.model.some((modelM2) => modelM2 > 0)) return null;
  // Few contrasts are linked: their places go into an array, and no table of all of them is made.
  const placeOf = new Int32Array(links.reduce((most, { second }) => Math.max(most, second), -1) + 1).fill(LEFT_OUT);
  let before = 0;
  for (const point of points) {
    const [start, end] = [starts[point] as number, starts[point + 1] as number];
    for (let place = start; place < end && place < placeOf.length; place += 1) placeOf[place] = before + place - start;
    before += end - start;
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
