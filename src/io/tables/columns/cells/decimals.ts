/** Decimals written for each kind of quantity; nothing is rounded before. */
export const DECIMALS = {
  metres: 4,
  degrees: 9,
  factor: 9,
  convergence: 6,
  ppm: 2,
  correlation: 4,
  azimuth: 6,
  count: 1,
} as const;

/** In place of decimals: a number is written with the digits it was given with. */
export const AS_GIVEN: number = Infinity;
