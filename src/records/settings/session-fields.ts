// The settings of a session file that are plain values: what each may hold, its default and its meaning. The types of
// src/records/session.ts, the reader, the error texts and the table of docs/file-formats.md come from here.
// `default` is the value that counts where nothing is given, `remark` what is said of it; `byDefault` says in words what
// happens without one. Everything is written out, because the types are taken from the text itself.

export const SYSTEM_FIELDS = {
  grid: { kind: 'text', isRequired: true, meaning: '`EPSG:n` of a projected system, or a PROJ definition string' },
  fixes: {
    kind: 'text',
    meaning: 'geographic system of the fixes; of fixes that are grid coordinates their projected system',
    byDefault: 'the base of the grid; of grid coordinates the grid itself',
  },
  epoch_year: {
    kind: 'number',
    minimum: 1900,
    maximum: 2200,
    meaning: 'coordinate epoch of the fixes, decimal year',
    byDefault: 'none',
  },
  shift: {
    kind: 'text',
    meaning:
      'shift from the fixes to the grid: a shift file or a grid of shifts beside the session file, or `EPSG:n` of a built-in operation',
    byDefault: 'none',
  },
} as const;

/** Who measured and with what: free text for pages, which no figure depends on. */
export const FIELDWORK_FIELDS = {
  observer: { kind: 'text', meaning: 'who held the rover, for pages', byDefault: 'none' },
  instrument: {
    kind: 'text',
    meaning: 'receiver, antenna and pole of the rover, for pages; those of a base stand in `base.instrument`',
    byDefault: 'none',
  },
} as const;

export const HEIGHT_FIELDS = {
  geoid: {
    kind: 'text',
    meaning: '`egm96` or a grid file, beside the session file',
    byDefault: 'none: no orthometric heights',
  },
  interpolation: {
    kind: 'text',
    choices: ['bilinear', 'biquadratic', 'bicubic'],
    meaning: 'between grid nodes',
    default: 'bilinear',
  },
  geoid_frame: {
    kind: 'text',
    meaning:
      "frame the grid is given in, `EPSG:n`, where the file's own word does not fit the fixes and the two agree well enough for you",
    byDefault: "the file's own word",
  },
  sigma_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'one sigma of the geoid height',
    byDefault: 'not stated',
  },
} as const;

export const ROVER_FIELDS = {
  reference_point: {
    kind: 'text',
    choices: ['apc', 'arp', 'tip'],
    meaning: 'what the positions belong to, where the row does not say',
    byDefault: 'none',
  },
  phase_centre_offset_m: {
    kind: 'number',
    minimum: -1,
    maximum: 1,
    meaning: 'antenna reference point to phase centre, along the pole; 0 says that they are one',
    byDefault: 'none; needed where positions are of the phase centre',
  },
  pole_length_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'tip to antenna reference point, where the row does not say',
    byDefault: 'none',
  },
  pole_sigma_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'one sigma of the pole length',
    default: 0.001,
  },
  plumb_sigma_deg: {
    kind: 'number',
    minimum: 0,
    maximum: 90,
    meaning: 'one sigma of the unmeasured lean, per axis',
    default: 0.1,
  },
  tilt_sigma_deg: {
    kind: 'number',
    minimum: 0,
    maximum: 90,
    meaning: 'one sigma of a measured tilt',
    default: 0.3,
  },
  tilt_azimuth_sigma_deg: {
    kind: 'number',
    minimum: 0,
    maximum: 90,
    meaning: 'one sigma of a measured tilt azimuth',
    default: 1,
  },
  tilt_azimuth: {
    kind: 'text',
    choices: ['top-from-tip', 'tip-from-top'],
    meaning: 'which way a tilt azimuth points; needed where a tilt occurs',
    byDefault: 'none',
  },
} as const;

export const ACCEPTANCE_FIELDS = {
  solution: {
    kind: 'words',
    choices: ['fixed', 'float', 'differential', 'autonomous'],
    meaning: 'solutions accepted',
    default: ['fixed'],
  },
  max_pdop: { kind: 'number', minimum: 0, maximum: 1e9, meaning: 'greatest PDOP', byDefault: 'not applied' },
  max_correction_age_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'oldest corrections',
    byDefault: 'not applied',
  },
  min_satellites: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    isWhole: true,
    meaning: 'fewest satellites',
    byDefault: 'not applied',
  },
  max_tilt_deg: { kind: 'number', minimum: 0, maximum: 1e9, meaning: 'greatest tilt', byDefault: 'not applied' },
  max_baseline_m: { kind: 'number', minimum: 0, maximum: 1e9, meaning: 'longest baseline', byDefault: 'not applied' },
  min_epochs: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    isWhole: true,
    meaning: 'fewest accepted epochs of an occupation',
    byDefault: 'not applied',
  },
  min_duration_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'shortest time from first to last accepted epoch',
    byDefault: 'not applied',
  },
  max_sigma_horizontal_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'greatest reported horizontal sigma',
    byDefault: 'not applied',
  },
  max_sigma_vertical_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'greatest reported vertical sigma',
    byDefault: 'not applied',
  },
  occupation_gap_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'a longer gap between epochs of a point starts another occupation',
    default: 60,
  },
} as const;

export const PRECISION_FIELDS = {
  conditions: {
    kind: 'text',
    choices: ['quiet', 'normal', 'active'],
    meaning: 'state of the ionosphere',
    default: 'normal',
  },
  combine: { kind: 'text', choices: ['rss', 'linear'], meaning: 'root of squares, or sum', default: 'rss' },
  correlation_horizontal_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'correlation time of the slow horizontal error',
    byDefault: 'by baseline length',
  },
  correlation_vertical_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'correlation time of the slow vertical error',
    byDefault: 'by baseline length',
  },
  age_mm_per_s: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning:
      'growth of the error with the age of the corrections, one sigma per axis, millimetres a second; 0 leaves it out',
    default: 1,
    remark: 'an assumption',
  },
} as const;

/** A term of the planning model that replaces its own. */
export const PROPORTION_FIELDS = {
  constant_mm: {
    kind: 'number',
    minimum: 0,
    maximum: 1e6,
    isRequired: true,
    meaning: 'constant part, one sigma, millimetres',
  },
  ppm: {
    kind: 'number',
    minimum: 0,
    maximum: 1e6,
    isRequired: true,
    meaning: 'part that grows with the baseline, one sigma, millimetres a kilometre',
  },
} as const;

export const TOLERANCE_FIELDS = {
  horizontal_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'greatest 95 % horizontal uncertainty',
    byDefault: 'not applied',
  },
  vertical_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1e9,
    meaning: 'greatest 95 % vertical uncertainty',
    byDefault: 'not applied',
  },
} as const;
