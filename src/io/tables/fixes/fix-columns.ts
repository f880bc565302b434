import type { TableSpec } from '../columns/column-map.js';

/** The columns of a table of fixes, in the order they are documented. */
export const FIX_TABLE: TableSpec = {
  columns: [
    'point_id',
    'code',
    'epoch_utc',
    'latitude_deg',
    'longitude_deg',
    'ellipsoidal_height_m',
    'x_m',
    'y_m',
    'z_m',
    'reference_point',
    'solution',
    'correction_age_s',
    'satellites_used',
    'pdop',
    'hdop',
    'vdop',
    'sigma_east_m',
    'sigma_north_m',
    'sigma_up_m',
    'correlation_en',
    'base_id',
    'pole_length_m',
    'tilt_deg',
    'tilt_azimuth_deg',
    'epoch_count',
    'note',
  ],
  required: ['point_id'],
  choices: [
    {
      what: 'a position',
      sets: [
        ['latitude_deg', 'longitude_deg', 'ellipsoidal_height_m'],
        ['x_m', 'y_m', 'z_m'],
      ],
    },
  ],
  heights: ['ellipsoidal_height_m', 'z_m'],
};
