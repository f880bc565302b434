// The keys of a shift file that every method between frames in space shares: what each may hold, its default and its
// meaning, as session-fields.ts has those of a session. The keys of the other methods stand with each method.

export const SHIFT_FIELDS = {
  method: { kind: 'text', isRequired: true, meaning: 'name of the EPSG method, or its code as EPSG:n' },
  name: { kind: 'text', meaning: 'a name for messages and records', byDefault: 'the method' },
  source: { kind: 'text', meaning: 'where the parameters were published' },
  from: {
    kind: 'text',
    meaning: 'code of the system it leads from, EPSG:n',
    byDefault: 'not stated: forward is from --from to --to',
  },
  to: { kind: 'text', meaning: 'code of the system it leads to, EPSG:n' },
  accuracy_m: { kind: 'number', minimum: 0, meaning: 'accuracy its publisher states', byDefault: 'not stated' },
  rotation_convention: {
    kind: 'text',
    choices: ['position-vector', 'coordinate-frame'],
    meaning: 'which way rotations turn; needed with rotations',
  },
  rotation_matrix: {
    kind: 'text',
    choices: ['automatic', 'small-angle', 'full'],
    meaning: 'form of the rotation matrix',
    default: 'automatic',
    remark: 'full above 2 seconds',
  },
  heights: {
    kind: 'text',
    choices: ['transformed', 'kept'],
    meaning: 'kept where one of the two frames has no ellipsoidal heights',
    default: 'transformed',
  },
} as const;

export const SHIFT_PARAMETER_FIELDS = {
  tx_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'translation along X', default: 0 },
  ty_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'translation along Y', default: 0 },
  tz_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'translation along Z', default: 0 },
  rx_arcsec: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rotation about X', default: 0 },
  ry_arcsec: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rotation about Y', default: 0 },
  rz_arcsec: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rotation about Z', default: 0 },
  ds_ppm: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'scale difference, parts per million', default: 0 },
} as const;

export const SHIFT_RATE_FIELDS = {
  tx_m_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of tx_m', default: 0 },
  ty_m_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of ty_m', default: 0 },
  tz_m_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of tz_m', default: 0 },
  rx_arcsec_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of rx_arcsec', default: 0 },
  ry_arcsec_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of ry_arcsec', default: 0 },
  rz_arcsec_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of rz_arcsec', default: 0 },
  ds_ppm_per_year: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'rate of ds_ppm', default: 0 },
} as const;

/** When and about which point the parameters hold. */
export const SHIFT_PLACE_FIELDS = {
  reference_epoch_year: {
    kind: 'number',
    minimum: 1900,
    maximum: 2200,
    meaning: 'year in which the parameters hold; needed with rates',
  },
  pivot_x_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'evaluation point of Molodensky-Badekas, X' },
  pivot_y_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'evaluation point, Y' },
  pivot_z_m: { kind: 'number', minimum: -1e9, maximum: 1e9, meaning: 'evaluation point, Z' },
} as const;
