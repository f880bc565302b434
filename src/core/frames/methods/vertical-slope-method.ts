import { success } from '../../../records/outcome.js';
import { createVerticalOffsetAndSlope } from '../shifts/vertical-offset-and-slope.js';
import { filedMethod } from './filed-method.js';
import type { FiledMethod } from './filed-method.js';
import { VERTICAL_OFFSET_KEY } from './vertical-offset-method.js';

/** Vertical offset and slope. Reference: IOGP-373-7-2, EPSG method 1046. */
export const VERTICAL_SLOPE_METHOD: FiledMethod = filedMethod({
  name: 'vertical offset and slope',
  code: 'EPSG:1046',
  keys: {
    vertical_offset_m: VERTICAL_OFFSET_KEY,
    origin_latitude_deg: { meaning: 'vertical offset and slope: evaluation point', minimum: -90, maximum: 90 },
    origin_longitude_deg: { meaning: 'vertical offset and slope: evaluation point', minimum: -180, maximum: 360 },
    inclination_latitude_arcsec: { meaning: 'vertical offset and slope: rise of the target northward' },
    inclination_longitude_arcsec: { meaning: 'vertical offset and slope: rise of the target eastward' },
  },
  make: (p) =>
    success({
      on: 'orthometric-height',
      addedM: (ellipsoid) =>
        createVerticalOffsetAndSlope({
          offsetM: p.vertical_offset_m,
          originLatitudeDeg: p.origin_latitude_deg,
          originLongitudeDeg: p.origin_longitude_deg,
          inclinationLatitudeArcsec: p.inclination_latitude_arcsec,
          inclinationLongitudeArcsec: p.inclination_longitude_arcsec,
          ellipsoid,
        }),
    }),
});
