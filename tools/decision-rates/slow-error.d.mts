import type { RandomStream } from './random.mjs';

export interface SlowError {
  addTo(out: Float64Array, factor: number, tauS: number, startS: number, stepS: number): void;
}
/** One realisation with unit variance and unit correlation time. */
export function slowError(random: RandomStream): SlowError;
