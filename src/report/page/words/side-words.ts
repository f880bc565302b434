/** An axis of the ground that a person knows without a sign. */
export type GroundAxis = 'east' | 'north' | 'up';

const SIDES: Readonly<Record<GroundAxis, readonly [string, string]>> = {
  east: ['east of', 'west of'],
  north: ['north of', 'south of'],
  up: ['above', 'below'],
};

/** On which side of a place another lies, by what it has more along an axis: `west of`, `below`. */
export function sideOf(axis: GroundAxis, moreM: number): string {
  return SIDES[axis][moreM < 0 ? 1 : 0];
}

/** Which way a difference goes: `west`; of heights on which side it is, `below`. */
export function wayAlong(axis: GroundAxis, moreM: number): string {
  return sideOf(axis, moreM).replace(/ of$/u, '');
}
