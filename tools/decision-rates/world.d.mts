import type { RandomStream } from './random.mjs';
import type { SlowError } from './slow-error.mjs';

export interface World {
  readonly tau: number;
  readonly ionosphere: number;
  readonly isHeavyTailed: boolean;
  readonly isContaminated: boolean;
  readonly multipathM: readonly number[] | null;
  readonly slow: number;
  readonly compassSigmaDeg: number;
}
export const WORLD: World;
export function correlationTimes(distanceM: number): number[];
export function slowSigmas(distanceM: number, heightDifferenceM: number, world?: World): number[];
export function receiverAt(random: RandomStream): SlowError[];
export function atmosphereOf(random: RandomStream): unknown;
/** Errors of the epochs of one stand along east, north and up, metres. */
export function epochErrors(stand: {
  readonly world: World;
  readonly random: RandomStream;
  readonly air: unknown;
  readonly baseReceiver: readonly SlowError[];
  readonly roverReceiver: readonly SlowError[];
  readonly line: {
    readonly east: number;
    readonly north: number;
    readonly distance: number;
    readonly heightDifference: number;
  };
  readonly startS: number;
  readonly stepS: number;
  readonly count: number;
}): readonly [Float64Array, Float64Array, Float64Array];
