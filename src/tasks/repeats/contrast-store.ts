import { LINKED_AXES } from '../../core/quality/day/contrast-links.js';
import type { BaselineContrast, ByAxis, ContrastedStand } from '../../core/quality/day/stand-contrasts.js';
import { entryAt } from '../../records/present.js';

/** The contrasts of a point, made anew each time they are gone through. */
export type KeptContrasts = Iterable<BaselineContrast> & { readonly length: number };

/** Keeps the contrasts of many points as numbers: as records those of a point with three stands take two kilobytes. */
export interface ContrastStore {
  readonly keep: (contrasts: readonly BaselineContrast[]) => KeptContrasts;
}

/** No contrasts. */
export const NO_CONTRASTS: KeptContrasts = Object.freeze([]);

/** Numbers of a stand, and of a contrast before its shares. */
const [STAND, CONTRAST] = [9, 8] as const;

/** Numbers that are asked for together. */
const ROOM = 1 << 13;

/** A store of nothing. */
export function createContrastStore(): ContrastStore {
  const marks: string[] = [];
  let room = new Float64Array(0);
  let used = 0;

  function markNumber(markKey: string): number {
    const known = marks.lastIndexOf(markKey);
    return known < 0 ? marks.push(markKey) - 1 : known;
  }

  function putStands(stands: readonly ContrastedStand[], into: Float64Array, from: number): number {
    let at = from;
    into[at] = stands.length;
    at += 1;
    for (const { markKey, azimuthRad, middleMs, constantM, growingM } of stands) {
      into[at] = markNumber(markKey);
      // Neither is ever NaN.
      into[at + 1] = azimuthRad ?? Number.NaN;
      into[at + 2] = middleMs ?? Number.NaN;
      into.set(constantM, at + 3);
      into.set(growingM, at + 6);
      at += STAND;
    }
    return at;
  }

  return {
    keep(contrasts) {
      if (contrasts.length === 0) return NO_CONTRASTS;
      const length = lengthOf(contrasts);
      if (used + length > room.length) {
        room = new Float64Array(Math.max(ROOM, length));
        used = 0;
      }
      const [numbers, start] = [room, used];
      let at = start;
      let stands: readonly ContrastedStand[] | null = null;
      for (const contrast of contrasts) {
        const isNew = contrast.stands !== stands;
        stands = contrast.stands;
        at = putContrast(contrast, isNew, numbers, at);
        if (isNew) at = putStands(stands, numbers, at);
      }
      used = at;
      return kept(numbers, start, contrasts.length, marks);
    },
  };
}

/** In a function of its own: it must hold nothing but numbers. */
function kept(numbers: Float64Array, start: number, length: number, marks: readonly string[]): KeptContrasts {
  return { length, [Symbol.iterator]: () => contrastsFrom(numbers, start, length, marks) };
}

function lengthOf(contrasts: readonly BaselineContrast[]): number {
  let length = 0;
  let before: readonly ContrastedStand[] | null = null;
  for (const { stands, shares } of contrasts) {
    length += CONTRAST + 1 + shares.length + (stands === before ? 0 : 1 + STAND * stands.length);
    before = stands;
  }
  return length;
}

/** Returned: where the next number goes. */
function putContrast(contrast: BaselineContrast, isNew: boolean, into: Float64Array, at: number): number {
  into[at] = LINKED_AXES.indexOf(contrast.axis);
  into[at + 1] = contrast.baselineM;
  into[at + 2] = contrast.differenceM;
  into[at + 3] = contrast.constantM2;
  into[at + 4] = contrast.growingM2;
  into[at + 5] = contrast.otherM2;
  into[at + 6] = contrast.tauS;
  into[at + 7] = isNew ? 1 : 0;
  into[at + CONTRAST] = contrast.shares.length;
  into.set(contrast.shares, at + CONTRAST + 1);
  return at + CONTRAST + 1 + contrast.shares.length;
}

function* contrastsFrom(
  numbers: Float64Array,
  start: number,
  count: number,
  marks: readonly string[],
): Generator<BaselineContrast> {
  let at = start;
  let stands: readonly ContrastedStand[] = [];
  const number = (offset: number): number => numbers[at + offset] as number;
  for (let place = 0; place < count; place += 1) {
    const shares = Array.from({ length: number(CONTRAST) }, (_, index) => number(CONTRAST + 1 + index));
    const contrast = {
      axis: entryAt(LINKED_AXES, number(0)),
      baselineM: number(1),
      differenceM: number(2),
      constantM2: number(3),
      growingM2: number(4),
      otherM2: number(5),
      tauS: number(6),
    };
    const isNew = number(7) === 1;
    at += CONTRAST + 1 + shares.length;
    if (isNew) {
      const length = number(0);
      stands = Array.from({ length }, (_, index) => standFrom(numbers, at + 1 + STAND * index, marks));
      at += 1 + STAND * length;
    }
    yield { ...contrast, stands, shares };
  }
}

function standFrom(numbers: Float64Array, at: number, marks: readonly string[]): ContrastedStand {
  const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);
  const byAxis = (from: number): ByAxis => [
    numbers[from] as number,
    numbers[from + 1] as number,
    numbers[from + 2] as number,
  ];
  return {
    markKey: entryAt(marks, numbers[at] as number),
    azimuthRad: orNull(numbers[at + 1] as number),
    middleMs: orNull(numbers[at + 2] as number),
    constantM: byAxis(at + 3),
    growingM: byAxis(at + 6),
  };
}
