import { success } from '../../../records/outcome.js';
import { filedMethod } from './filed-method.js';
import type { FiledMethod, MethodKey } from './filed-method.js';

/** The offset itself, which the method with a slope has too. */
export const VERTICAL_OFFSET_KEY: MethodKey = { meaning: 'vertical offset: target height less source height' };

/** Vertical offset. Reference: IOGP-373-7-2, EPSG method 9616. */
export const VERTICAL_OFFSET_METHOD: FiledMethod = filedMethod({
  name: 'vertical offset',
  code: 'EPSG:9616',
  keys: { vertical_offset_m: VERTICAL_OFFSET_KEY },
  make: ({ vertical_offset_m: offsetM }) => success({ on: 'orthometric-height', addedM: () => () => offsetM }),
});
