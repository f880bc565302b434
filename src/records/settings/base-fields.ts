// The settings of a `[[base]]` of a session file, as session-fields.ts has the others.

/** Which set-up it is, and when it holds. */
export const BASE_FIELDS = {
  id: { kind: 'text', isRequired: true, meaning: 'identifier' },
  from_utc: { kind: 'time', meaning: 'first time the set-up holds for', byDefault: 'open' },
  to_utc: { kind: 'time', meaning: 'last time the set-up holds for', byDefault: 'open' },
  instrument: { kind: 'text', meaning: 'receiver and antenna of the set-up, for pages', byDefault: 'none' },
} as const;

/** A coordinate of a base, sent out or known: geodetic, geocentric, or the two axes of the grid with a height. */
export const BASE_COORDINATE_FIELDS = {
  latitude_deg: { kind: 'number', minimum: -90, maximum: 90, meaning: 'latitude, north positive' },
  longitude_deg: { kind: 'number', minimum: -180, maximum: 360, meaning: 'longitude, east positive' },
  ellipsoidal_height_m: { kind: 'number', minimum: -12_000, maximum: 100_000, meaning: 'height above the ellipsoid' },
  orthometric_height_m: {
    kind: 'number',
    minimum: -12_000,
    maximum: 100_000,
    meaning: 'height above the geoid; needs `height.geoid`',
  },
  x_m: { kind: 'number', meaning: 'geocentric X' },
  y_m: { kind: 'number', meaning: 'geocentric Y' },
  z_m: { kind: 'number', meaning: 'geocentric Z' },
  frame: {
    kind: 'text',
    choices: ['fixes', 'national'],
    meaning: 'with `system.shift`: the frame the coordinate is in',
    byDefault:
      'national for `known`; as sent for `broadcast`, where national says that the national coordinate was sent and is the right one',
  },
  at: {
    kind: 'text',
    choices: ['apc', 'arp', 'mark'],
    isRequired: true,
    meaning:
      'where on the set-up the coordinate belongs: antenna phase centre, antenna reference point, or ground mark',
  },
} as const;

/** The right coordinate of a base of a job, by reference. */
export const BASE_REFERENCE_FIELDS = {
  point: {
    kind: 'text',
    meaning: 'of a job, in place of a coordinate: the point whose tip is the mark, as an earlier day gives it',
    byDefault: 'none',
  },
  day: { kind: 'text', meaning: '`id` of that day', byDefault: 'needed with `point`' },
} as const;

/** Where a known coordinate of another frame and epoch comes from. */
export const BASE_INTERNATIONAL_FIELDS = {
  frame: {
    kind: 'text',
    meaning:
      '`fixes` or `national`, with `system.shift`; or the code of an ITRF, such as EPSG:9988, from which the coordinate goes to the national frame by the chain of that frame',
    byDefault: 'national',
  },
  epoch_year: {
    kind: 'number',
    minimum: 1900,
    maximum: 2200,
    meaning: 'epoch of a coordinate in an ITRF, decimal year',
    byDefault: 'needed with an ITRF',
  },
  plate: {
    kind: 'text',
    meaning: 'the plate the base lies on, where the table of national frames names none',
    byDefault: 'that of the table',
  },
  sinex: {
    kind: 'text',
    meaning: 'in place of a coordinate: a SINEX file beside the session, whose site is the mark; needs `frame`',
    byDefault: 'none',
  },
  code: { kind: 'text', meaning: 'code of the site in it', byDefault: 'needed with `sinex`' },
} as const;

/** The antenna over the mark. */
export const BASE_ANTENNA_FIELDS = {
  antenna_height_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: "mark to antenna: vertical, or slant to the antenna's edge",
    byDefault: 'none',
  },
  antenna_height_kind: {
    kind: 'text',
    choices: ['vertical', 'slant'],
    meaning: 'how it was measured',
    default: 'vertical',
  },
  antenna_radius_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'slant only: radius of the edge measured to',
    byDefault: 'needed when slant',
  },
  antenna_offset_m: {
    kind: 'number',
    minimum: -1,
    maximum: 1,
    meaning: 'slant only: edge above the antenna reference point',
    byDefault: 'needed when slant',
  },
  phase_centre_offset_m: {
    kind: 'number',
    minimum: -1,
    maximum: 1,
    meaning: 'antenna reference point to phase centre, up; 0 says that they are one',
    byDefault: 'none; needed where a coordinate is at `apc`',
  },
} as const;

/** The sigmas of a base set-up. */
export const BASE_SIGMA_FIELDS = {
  sigma_horizontal_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'one sigma per horizontal axis of the coordinate used, mark and set-up together',
    byDefault: 'not stated',
  },
  sigma_vertical_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'one sigma of its height, mark and set-up together',
    byDefault: 'not stated',
  },
  antenna_height_sigma_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning:
      'the part of `sigma_vertical_m` that is the measured antenna height: another set-up on the mark does not share it',
    byDefault: '0.002 where the coordinate is at the mark, else 0 (an assumption)',
  },
  centring_sigma_m: {
    kind: 'number',
    minimum: 0,
    maximum: 1000,
    meaning: 'the part of `sigma_horizontal_m` that is the centring over the mark: another set-up does not share it',
    byDefault: '0.0015 where the coordinate is at the mark, else 0 (an assumption)',
  },
} as const;
