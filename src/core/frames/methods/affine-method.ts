import { success } from '../../../records/outcome.js';
import { createAffine2d } from '../../grid/plane/affine-2d.js';
import { filedMethod } from './filed-method.js';
import type { FiledMethod } from './filed-method.js';

/** Affine parametric transformation in the plane. Reference: IOGP-373-7-2, EPSG method 9624. */
export const AFFINE_METHOD: FiledMethod = filedMethod({
  name: 'affine parametric transformation',
  code: 'EPSG:9624',
  keys: {
    a0: { meaning: 'affine: A0' },
    a1: { meaning: 'affine: A1' },
    a2: { meaning: 'affine: A2' },
    b0: { meaning: 'affine: B0' },
    b1: { meaning: 'affine: B1' },
    b2: { meaning: 'affine: B2' },
  },
  make: (parameters) => {
    const made = createAffine2d(parameters);
    return made.ok ? success({ on: 'plane', ...made.value }) : made;
  },
});
