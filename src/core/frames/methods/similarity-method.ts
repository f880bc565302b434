import { success } from '../../../records/outcome.js';
import { createSimilarity2d } from '../../grid/plane/similarity-2d.js';
import { filedMethod } from './filed-method.js';
import type { FiledMethod } from './filed-method.js';

/** Similarity transformation in the plane. Reference: IOGP-373-7-2, EPSG method 9621. */
export const SIMILARITY_METHOD: FiledMethod = filedMethod({
  name: 'similarity transformation',
  code: 'EPSG:9621',
  keys: {
    first_origin: { meaning: 'similarity: first target coordinate of the source origin' },
    second_origin: { meaning: 'similarity: second target coordinate of the source origin' },
    scale_factor: { meaning: 'similarity: target length of one source unit' },
    rotation_arcsec: { meaning: 'similarity: rotation of the source axes, clockwise' },
  },
  make: ({ first_origin: first0, second_origin: second0, scale_factor: scale, rotation_arcsec: rotationArcsec }) => {
    const made = createSimilarity2d({ first0, second0, scale, rotationArcsec });
    return made.ok ? success({ on: 'plane', ...made.value }) : made;
  },
});
