import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { distanceOutsideHullM } from '../../../core/adjustment/convex-hull.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { collocateHeights, withUntoldTilt } from '../../../core/heights/height-surface.js';
import type { HeightSurface } from '../../../core/heights/height-surface.js';
import { leaveOneOut, leaveOneOutRmsM } from '../../../core/heights/leave-one-out.js';
import type { SignalCovariance } from '../../../core/heights/signal-covariance.js';
import { surfaceAtM, surfaceVarianceM2 } from '../../../core/heights/surface-at.js';

/** What another signal would make of the heights. */
export interface Sensitivity {
  readonly what: 'as fitted' | 'C₀ x 0.5' | 'C₀ x 2' | 'L x 0.5' | 'L x 2';
  readonly leftOutRmsM: number | null;
  /** Largest change of the correction between the benchmarks, metres. */
  readonly changeM: number;
  /** Largest sigma between the benchmarks, metres. */
  readonly mostSigmaM: number;
}

const VARIED: readonly (readonly [Sensitivity['what'], (signal: SignalCovariance) => SignalCovariance])[] = [
  ['as fitted', (signal) => signal],
  ['C₀ x 0.5', (signal) => ({ ...signal, sigmaM: signal.sigmaM * Math.SQRT1_2 })],
  ['C₀ x 2', (signal) => ({ ...signal, sigmaM: signal.sigmaM * Math.SQRT2 })],
  ['L x 0.5', (signal) => ({ ...signal, lengthM: signal.lengthM / 2 })],
  ['L x 2', (signal) => ({ ...signal, lengthM: signal.lengthM * 2 })],
];

/** Places a side, over the extent of the benchmarks. */
const SIDE = 15;

/** How much hangs on the signal: C₀ and L halved and doubled. Given: the surface; the hull of its benchmarks. */
export function surfaceSensitivity(surface: HeightSurface, hull: readonly PlanePoint[]): readonly Sensitivity[] {
  const places = placesWithin(hull);
  const before = places.map((place) => surfaceAtM(surface, place));
  return VARIED.flatMap(([what, vary]) => {
    if (what === 'as fitted') return [rowOf(what, surface, places, before)];
    const varied = collocateHeights({ ...surface, signal: vary(surface.signal) }, surface.varianceFactor);
    if (varied === null) return [];
    const other = surface.untold === null ? varied : withUntoldTilt(varied);
    return [rowOf(what, other, places, before)];
  });
}

function rowOf(
  what: Sensitivity['what'],
  surface: HeightSurface,
  places: readonly PlanePoint[],
  before: readonly number[],
): Sensitivity {
  let [changeM, mostSigmaM] = [0, 0];
  for (const [i, place] of places.entries()) {
    changeM = Math.max(changeM, Math.abs(surfaceAtM(surface, place) - (before[i] as number)));
    mostSigmaM = Math.max(mostSigmaM, Math.sqrt(surfaceVarianceM2(surface, place)));
  }
  return { what, leftOutRmsM: leaveOneOutRmsM(leaveOneOut(surface)), changeM, mostSigmaM };
}

/** Places of a regular grid inside a hull, and its corners. */
export function placesWithin(hull: readonly PlanePoint[]): readonly PlanePoint[] {
  const [east, north] = [hull.map(({ eastM }) => eastM), hull.map(({ northM }) => northM)];
  const span = (values: readonly number[], at: number): number => {
    const [least, most] = [smallestOf(values, Infinity), largestOf(values, -Infinity)];
    return least + ((most - least) * at) / (SIDE - 1);
  };
  const inside: PlanePoint[] = [...hull];
  for (let i = 0; i < SIDE; i += 1)
    for (let j = 0; j < SIDE; j += 1) {
      const place = { eastM: span(east, i), northM: span(north, j) };
      if (distanceOutsideHullM(hull, place) === 0) inside.push(place);
    }
  return inside;
}
