/** A height and whose it is. */
export interface NamedHeight {
  readonly id: string;
  readonly heightM: number;
}

/** The ends of the heights of a job, as plain data for another thread. */
export interface HeightEndsPart {
  readonly count: number;
  /** Highest first. */
  readonly highest: readonly NamedHeight[];
  /** Lowest first. */
  readonly lowest: readonly NamedHeight[];
}

/** Heights that lie far from all others of a job. */
export interface FarHeights {
  /** Farthest first. */
  readonly far: readonly NamedHeight[];
  /** Of the others, metres. */
  readonly lowestM: number;
  readonly highestM: number;
  readonly others: number;
  /** The far ones lie among the others when taken for feet; or the others do when taken for feet; null: neither. */
  readonly inFeet: 'far' | 'others' | null;
}

/** The ends of the heights of a job, in constant memory. */
export interface HeightEnds {
  readonly add: (id: string, heightM: number) => void;
  readonly addPart: (part: HeightEndsPart) => void;
  readonly part: () => HeightEndsPart;
  /** Null where no height lies far from all others. */
  readonly far: () => FarHeights | null;
}

/** So many of each end are kept: one fewer can be found to be far. */
const KEPT = 8;

/**
 * Far is what stands apart from all others by more than so many times their whole range. With heights at random (normal)
 * that comes by chance in 0.34 % of jobs of six points, 0.04 % of eight and 0.006 % of ten, whatever their
 * spread; a million jobs each (tests/core/quality/height-ends.test.ts). Holds over a job, whose far ones are said together.
 */
export const FAR_RANGES = 4;
/** Fewer others than this tell nothing of the ground, and they are more than twice as many as the far ones. */
const LEAST_OTHERS = 5;
/** On flat ground a hill stands apart without being wrong: so much is beyond it, metres. Common practice, no published source. */
export const FAR_LEAST_M = 200;
/** Where feet explain the height this much will do, metres. Common practice, no published source. */
export const FAR_IN_FEET_LEAST_M = 10;

const METRES_PER_FOOT = 0.3048;

/** The ends of no heights. */
export function createHeightEnds(): HeightEnds {
  let count = 0;
  const highest: NamedHeight[] = [];
  const lowest: NamedHeight[] = [];
  const keep = (height: NamedHeight): void => {
    insert(highest, height, (a, b) => a > b);
    insert(lowest, height, (a, b) => a < b);
  };
  return {
    add(id, heightM) {
      count += 1;
      const high = highest[KEPT - 1];
      const low = lowest[KEPT - 1];
      if (high !== undefined && low !== undefined && heightM <= high.heightM && heightM >= low.heightM) return;
      keep({ id, heightM });
    },
    addPart(part) {
      count += part.count;
      for (const height of part.highest) insert(highest, height, (a, b) => a > b);
      for (const height of part.lowest) insert(lowest, height, (a, b) => a < b);
    },
    part: () => ({ count, highest: [...highest], lowest: [...lowest] }),
    far: () => farOf(highest, lowest[0]?.heightM ?? NaN, count) ?? farOf(lowest, highest[0]?.heightM ?? NaN, count),
  };
}

/** Those at the end of a list that stand apart, from the outermost on. Given: the list; the height at the other end; how many there are in all. */
function farOf(ends: readonly NamedHeight[], otherEndM: number, count: number): FarHeights | null {
  for (let far = 1; far < ends.length; far += 1) {
    const others = count - far;
    if (others < LEAST_OTHERS || others <= 2 * far) return null;
    const last = (ends[far - 1] as NamedHeight).heightM;
    const next = (ends[far] as NamedHeight).heightM;
    const gapM = Math.abs(last - next);
    const rangeM = Math.abs(next - otherEndM);
    if (gapM <= FAR_RANGES * rangeM || gapM <= FAR_IN_FEET_LEAST_M) continue;
    const lowestM = Math.min(next, otherEndM);
    const highestM = Math.max(next, otherEndM);
    const isAmong = (heightM: number): boolean => heightM >= lowestM - rangeM && heightM <= highestM + rangeM;
    const found = ends.slice(0, far);
    const isFar = found.every(({ heightM }) => isAmong(heightM * METRES_PER_FOOT));
    const areOthers = found.every(({ heightM }) => isAmong(heightM / METRES_PER_FOOT));
    const inFeet = isFar ? 'far' : areOthers ? 'others' : null;
    if (inFeet !== null || gapM > FAR_LEAST_M) return { far: found, lowestM, highestM, others, inFeet };
  }
  return null;
}

/** Puts a height in its place of a list of the outermost, unless the list is full of others further out. */
function insert(list: NamedHeight[], height: NamedHeight, isFurther: (a: number, b: number) => boolean): void {
  let at = list.length;
  while (at > 0 && isFurther(height.heightM, (list[at - 1] as NamedHeight).heightM)) at -= 1;
  if (at >= KEPT) return;
  list.splice(at, 0, height);
  if (list.length > KEPT) list.length = KEPT;
}
