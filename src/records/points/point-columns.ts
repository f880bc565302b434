/** Columns of reduced points before the grid pair, in order. */
export const POINT_COLUMNS_BEFORE_GRID: readonly string[] = ['point_id', 'occupation', 'code'];

/** Columns of reduced points after the grid pair, in order. */
export const POINT_COLUMNS_AFTER_GRID: readonly string[] = [
  'orthometric_height_m',
  'latitude_deg',
  'longitude_deg',
  'ellipsoidal_height_m',
  'geoid_height_m',
  'point_scale_factor',
  'elevation_factor',
  'combined_factor',
  'convergence_deg',
  'base_id',
  'baseline_m',
  'baseline_azimuth_deg',
  'baseline_height_difference_m',
  'first_epoch_utc',
  'last_epoch_utc',
  'epochs_used',
  'epochs_rejected',
  'effective_epochs',
  'sigma_east_m',
  'sigma_north_m',
  'sigma_up_m',
  'correlation_en',
  'ellipse_major_95_m',
  'ellipse_minor_95_m',
  'ellipse_azimuth_deg',
  'circle_95_m',
  'vertical_95_m',
  'verdict',
  'reasons',
];

/** Every column of a points file, given the grid pair's names. */
export function pointColumns(gridPair: readonly [string, string]): readonly string[] {
  return [...POINT_COLUMNS_BEFORE_GRID, ...gridPair, ...POINT_COLUMNS_AFTER_GRID];
}
