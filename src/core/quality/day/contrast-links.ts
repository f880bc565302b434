import { correlationAfter } from '../../observation/repeats/occupation-estimate.js';
import { entryAt } from '../../../records/present.js';
import type { BaselineContrast, ContrastedStand } from './stand-contrasts.js';

/** What two contrasts of different points share, m²; `pairs` as in `ContrastLink`. */
export interface BaselineLink {
  readonly first: number;
  readonly second: number;
  readonly constantM2: number;
  readonly growingM2: number;
  readonly pairs: number;
}

const PLACES = { east: 0, north: 1, up: 2 } as const;
/** Of more contrasts of one axis as many, evenly taken, are held against each other: time grows with the square. */
const MOST_LINKED = 120;
/** Share of the slow error without growth that is the base receiver's, common to all that is measured at that time. An assumption. */
const BASE_RECEIVER_SHARE = 0.5;
/** Less shared than this share of either variance changes nothing. */
const LEAST_SHARED = 0.05;

/** The axes in the order in which their contrasts are linked. */
export const LINKED_AXES: readonly BaselineContrast['axis'][] = ['east', 'north', 'up'];

/** The contrasts of one axis that are held against each other: their places in the whole, and of how many. */
export interface LinkedPlaces {
  readonly count: number;
  readonly places: readonly number[];
}

/** Of so many contrasts of one axis every how manieth is held against the others. */
export function linkedStep(count: number): number {
  return Math.ceil(count / MOST_LINKED);
}

/**
 * What contrasts of different points share. Two stands from one mark at one time have the base receiver's slow error in common; what
 * grows with the baseline is the same gradient of the atmosphere for both, so that it is as alike as their directions are, and fades by exp(−Δt/τ).
 *
 * Given: by axis the places of the contrasts that are held against each other; the contrast, and its point, of a place. Returned: those that
 * share anything, first below second.
 *
 * Notes: a linear gradient is the first term of any field over an area; higher terms would share less.
 *
 * Reference: common practice, no published source; the shares are assumptions.
 */
export function linksOf(
  used: readonly LinkedPlaces[],
  contrastAt: (place: number) => BaselineContrast,
  pointOf: (place: number) => number,
): readonly BaselineLink[] {
  const links: BaselineLink[] = [];
  for (const { count, places } of used) {
    const pairs = 2 * (count / Math.max(1, places.length)) ** 2;
    const contrasts = places.map(contrastAt);
    const points = places.map(pointOf);
    places.forEach((second, index) => {
      const own = entryAt(contrasts, index);
      for (let before = 0; before < index; before += 1) {
        if (points[before] === points[index]) continue;
        const other = entryAt(contrasts, before);
        const link = { first: entryAt(places, before), second, ...sharedOf(other, own), pairs };
        if (
          Math.abs(link.growingM2) + Math.abs(link.constantM2) >
          LEAST_SHARED * Math.sqrt(varianceOf(other) * varianceOf(own))
        )
          links.push(link);
      }
    });
  }
  return links;
}

function varianceOf({ constantM2, growingM2, otherM2 }: BaselineContrast): number {
  return constantM2 + growingM2 + otherM2;
}

function sharedOf(
  a: BaselineContrast,
  b: BaselineContrast,
): { readonly constantM2: number; readonly growingM2: number } {
  let [constantM2, growingM2] = [0, 0];
  const tauS = Math.max(a.tauS, b.tauS);
  const axis = PLACES[a.axis];
  a.shares.forEach((ofOne, i) => {
    const one = entryAt(a.stands, i);
    b.shares.forEach((ofOther, j) => {
      const other = entryAt(b.stands, j);
      if (one.markKey !== other.markKey) return;
      const shares = ofOne * ofOther * correlationBetween(one, other, tauS);
      constantM2 += shares * BASE_RECEIVER_SHARE * one.constantM[axis] * other.constantM[axis];
      growingM2 += shares * one.growingM[axis] * other.growingM[axis] * alike(one, other);
    });
  });
  return { constantM2, growingM2 };
}

/** Where a time is not stated they may have been at one. */
function correlationBetween(a: ContrastedStand, b: ContrastedStand, tauS: number): number {
  return a.middleMs === null || b.middleMs === null
    ? 1
    : correlationAfter(Math.abs(a.middleMs - b.middleMs) / 1000, tauS);
}

/** Cosine of the angle between two baselines; 1 where a direction is not known. */
function alike({ azimuthRad: a }: ContrastedStand, { azimuthRad: b }: ContrastedStand): number {
  return a === null || b === null ? 1 : Math.cos(a - b);
}
