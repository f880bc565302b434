import { InternalError } from '../../../records/internal-error.js';

/** Throws unless p is a probability strictly between 0 and 1; the ends have no finite quantile. */
export function checkProbability(p: number): void {
  if (!(p > 0 && p < 1)) throw new InternalError(`${String(p)} is not a probability between 0 and 1`);
}

/** Throws unless every count of degrees of freedom is above 0 and finite. They need not be whole. */
export function checkDegreesOfFreedom(...counts: readonly number[]): void {
  for (const count of counts) {
    if (!(count > 0 && count < Infinity))
      throw new InternalError(`${String(count)} degrees of freedom are not possible`);
  }
}
