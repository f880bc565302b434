import type { TomlField, TomlSchema } from './toml-schema.js';

const lengthM = (meaning: string, byDefault?: string): TomlField => ({
  kind: 'number',
  minimum: 0,
  maximum: 1000,
  meaning,
  ...(byDefault !== undefined && { byDefault }),
});
const limit = (meaning: string, isWhole = false): TomlField => ({
  kind: 'number',
  minimum: 0,
  maximum: 1e9,
  isWhole,
  meaning,
  byDefault: 'not applied',
});
const angle = (meaning: string, byDefault: string): TomlField => ({
  kind: 'number',
  minimum: 0,
  maximum: 90,
  meaning,
  byDefault,
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

/** Every setting of a session file. docs/file-formats.md holds the table made from it. */
export const SESSION_SCHEMA: TomlSchema = {
  named: {
    version: { kind: 'number', isWhole: true, isRequired: true, meaning: 'version of this form of file: 1' },
    title: { kind: 'text', meaning: 'a name for reports', byDefault: 'none' },
    system: {
      kind: 'table',
      meaning: 'coordinate systems',
      fields: {
        named: {
          grid: {
            kind: 'text',
            isRequired: true,
            meaning: '`EPSG:n` of a projected system, or a PROJ definition string',
          },
          fixes: { kind: 'text', meaning: 'geographic system of the fixes', byDefault: 'the base of the grid' },
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
              'shift from the fixes to the grid: a shift file beside the session file, or `EPSG:n` of a built-in operation',
            byDefault: 'none',
          },
        },
      },
    },
    height: {
      kind: 'table',
      meaning: 'the geoid',
      fields: {
        named: {
          geoid: {
            kind: 'text',
            meaning: '`egm96` or a grid file, beside the session file',
            byDefault: 'none: no orthometric heights',
          },
          interpolation: {
            kind: 'text',
            choices: ['bilinear', 'biquadratic', 'bicubic'],
            meaning: 'between grid nodes',
            byDefault: 'bilinear',
          },
          geoid_frame: {
            kind: 'text',
            meaning:
              "frame the grid is given in, `EPSG:n`, where the file's own word does not fit the fixes and the two agree well enough for you",
            byDefault: "the file's own word",
          },
          sigma_m: lengthM('one sigma of the geoid height', 'not stated'),
        },
      },
    },
    rover: {
      kind: 'table',
      meaning: 'antenna and pole',
      fields: {
        named: {
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
          pole_length_m: lengthM('tip to antenna reference point, where the row does not say', 'none'),
          pole_sigma_m: lengthM('one sigma of the pole length', '0.001'),
          plumb_sigma_deg: angle('one sigma of the unmeasured lean, per axis', '0.1'),
          tilt_sigma_deg: angle('one sigma of a measured tilt', '0.3'),
          tilt_azimuth_sigma_deg: angle('one sigma of a measured tilt azimuth', '1.0'),
          tilt_azimuth: {
            kind: 'text',
            choices: ['top-from-tip', 'tip-from-top'],
            meaning: 'which way a tilt azimuth points; needed where a tilt occurs',
            byDefault: 'none',
          },
        },
      },
    },
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
            fields: COORDINATE,
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
          sigma_horizontal_m: lengthM(
            'one sigma per horizontal axis of the coordinate used, mark and set-up together',
            'not stated',
          ),
          sigma_vertical_m: lengthM('one sigma of its height, mark and set-up together', 'not stated'),
          antenna_height_sigma_m: lengthM(
            'the part of `sigma_vertical_m` that is the measured antenna height: another set-up on the mark does not share it',
            '0.002 where the coordinate is at the mark, else 0 (an assumption)',
          ),
          centring_sigma_m: lengthM(
            'the part of `sigma_horizontal_m` that is the centring over the mark: another set-up does not share it',
            '0.0015 where the coordinate is at the mark, else 0 (an assumption)',
          ),
        },
      },
    },
    acceptance: {
      kind: 'table',
      meaning: 'limits on epochs and occupations',
      fields: {
        named: {
          solution: {
            kind: 'words',
            choices: ['fixed', 'float', 'differential', 'autonomous'],
            meaning: 'solutions accepted',
            byDefault: '["fixed"]',
          },
          max_pdop: limit('greatest PDOP'),
          max_correction_age_s: limit('oldest corrections'),
          min_satellites: limit('fewest satellites', true),
          max_tilt_deg: limit('greatest tilt'),
          max_baseline_m: limit('longest baseline'),
          min_epochs: limit('fewest accepted epochs of an occupation', true),
          min_duration_s: limit('shortest time from first to last accepted epoch'),
          max_sigma_horizontal_m: limit('greatest reported horizontal sigma'),
          max_sigma_vertical_m: limit('greatest reported vertical sigma'),
          occupation_gap_s: {
            kind: 'number',
            minimum: 0,
            maximum: 1e9,
            meaning: 'a longer gap between epochs of a point starts another occupation',
            byDefault: '60',
          },
        },
      },
    },
    precision: {
      kind: 'table',
      meaning: 'planning model, one sigma per axis',
      fields: {
        named: {
          conditions: {
            kind: 'text',
            choices: ['quiet', 'normal', 'active'],
            meaning: 'state of the ionosphere',
            byDefault: 'normal',
          },
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
          combine: { kind: 'text', choices: ['rss', 'linear'], meaning: 'root of squares, or sum', byDefault: 'rss' },
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
            byDefault: '1, an assumption',
          },
        },
      },
    },
    tolerance: {
      kind: 'table',
      meaning: '95 % limits',
      fields: {
        named: {
          horizontal_m: limit('greatest 95 % horizontal uncertainty'),
          vertical_m: limit('greatest 95 % vertical uncertainty'),
        },
      },
    },
    columns: { kind: 'texts', meaning: "our column name = the file's header", byDefault: 'names as they are' },
  },
};
