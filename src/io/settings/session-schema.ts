import {
  ACCEPTANCE_FIELDS,
  BASE_SIGMA_FIELDS,
  HEIGHT_FIELDS,
  PRECISION_FIELDS,
  ROVER_FIELDS,
  SYSTEM_FIELDS,
  TOLERANCE_FIELDS,
} from '../../records/settings/session-fields.js';
import type { TomlField, TomlSchema } from './toml-schema.js';

const lengthM = (meaning: string, byDefault?: string): TomlField => ({
  kind: 'number',
  minimum: 0,
  maximum: 1000,
  meaning,
  ...(byDefault !== undefined && { byDefault }),
});
/** A base coordinate: geodetic, geocentric, or grid values with a height. */
const COORDINATE: TomlSchema = {
  named: {
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
  },
  others: {
    match: /^(?:easting|northing|westing|southing)_[a-z_]+$/,
    shown: 'the two axes of the grid, such as westing_m and southing_m',
    field: { kind: 'number', meaning: "a grid value in the system's own axis and unit" },
  },
};

/** The right coordinate of a base: typed, or of a job by reference. */
const KNOWN: TomlSchema = {
  ...COORDINATE,
  named: {
    ...COORDINATE.named,
    at: { ...COORDINATE.named['at'], isRequired: false, byDefault: 'needed where a coordinate is typed' } as TomlField,
    point: {
      kind: 'text',
      meaning: 'of a job, in place of a coordinate: the point whose tip is the mark, as an earlier day gives it',
      byDefault: 'none',
    },
    day: { kind: 'text', meaning: '`id` of that day', byDefault: 'needed with `point`' },
  },
};

const PROPORTION: TomlSchema = {
  named: {
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
  },
};

/** The planning model's own settings, after the state of the ionosphere and the terms that replace its own. */
const { conditions, ...model } = PRECISION_FIELDS;

/** Every setting of a session file. docs/file-formats.md holds the table made from it. */
export const SESSION_SCHEMA: TomlSchema = {
  named: {
    version: { kind: 'number', isWhole: true, isRequired: true, meaning: 'version of this form of file: 1' },
    title: { kind: 'text', meaning: 'a name for reports', byDefault: 'none' },
    system: { kind: 'table', meaning: 'coordinate systems', fields: { named: SYSTEM_FIELDS } },
    height: { kind: 'table', meaning: 'the geoid', fields: { named: HEIGHT_FIELDS } },
    rover: { kind: 'table', meaning: 'antenna and pole', fields: { named: ROVER_FIELDS } },
    base: {
      kind: 'tables',
      meaning: 'base set-ups',
      fields: {
        named: {
          id: { kind: 'text', isRequired: true, meaning: 'identifier' },
          from_utc: { kind: 'time', meaning: 'first time the set-up holds for', byDefault: 'open' },
          to_utc: { kind: 'time', meaning: 'last time the set-up holds for', byDefault: 'open' },
          broadcast: {
            kind: 'table',
            isRequired: true,
            fields: COORDINATE,
            meaning: 'the coordinate the base sent out',
          },
          known: {
            kind: 'table',
            fields: KNOWN,
            meaning: 'the coordinate it should have sent',
            byDefault: 'none',
          },
          antenna_height_m: lengthM("mark to antenna: vertical, or slant to the antenna's edge", 'none'),
          antenna_height_kind: {
            kind: 'text',
            choices: ['vertical', 'slant'],
            meaning: 'how it was measured',
            byDefault: 'vertical',
          },
          antenna_radius_m: lengthM('slant only: radius of the edge measured to', 'needed when slant'),
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
          ...BASE_SIGMA_FIELDS,
        },
      },
    },
    acceptance: { kind: 'table', meaning: 'limits on epochs and occupations', fields: { named: ACCEPTANCE_FIELDS } },
    precision: {
      kind: 'table',
      meaning: 'planning model, one sigma per axis',
      fields: {
        named: {
          conditions,
          horizontal: {
            kind: 'table',
            fields: PROPORTION,
            meaning: "replaces the model's horizontal terms",
            byDefault: "the model's",
          },
          vertical: {
            kind: 'table',
            fields: PROPORTION,
            meaning: "replaces the model's vertical terms",
            byDefault: "the model's",
          },
          ...model,
        },
      },
    },
    tolerance: { kind: 'table', meaning: '95 % limits', fields: { named: TOLERANCE_FIELDS } },
    columns: { kind: 'texts', meaning: "our column name = the file's header", byDefault: 'names as they are' },
  },
};
