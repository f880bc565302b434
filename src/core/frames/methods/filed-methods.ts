import { AFFINE_METHOD } from './affine-method.js';
import type { FiledMethod } from './filed-method.js';
import { SIMILARITY_METHOD } from './similarity-method.js';
import { VERTICAL_OFFSET_METHOD } from './vertical-offset-method.js';
import { VERTICAL_SLOPE_METHOD } from './vertical-slope-method.js';

/** The methods of a shift file that are no shift between frames in space, in the order of the documentation. */
export const FILED_METHODS: readonly FiledMethod[] = [
  SIMILARITY_METHOD,
  AFFINE_METHOD,
  VERTICAL_OFFSET_METHOD,
  VERTICAL_SLOPE_METHOD,
];
