import { TABLE_FIELDS } from '../../records/settings/table-fields.js';
import {
  BASE_ANTENNA_FIELDS,
  BASE_COORDINATE_FIELDS,
  BASE_FIELDS,
  BASE_INTERNATIONAL_FIELDS,
  BASE_REFERENCE_FIELDS,
  BASE_SIGMA_FIELDS,
} from '../../records/settings/base-fields.js';
import {
  ACCEPTANCE_FIELDS,
  FIELDWORK_FIELDS,
  HEIGHT_FIELDS,
  PRECISION_FIELDS,
  PROPORTION_FIELDS,
  ROVER_FIELDS,
  SYSTEM_FIELDS,
  TOLERANCE_FIELDS,
} from '../../records/settings/session-fields.js';
import { READING_FIELDS } from '../../records/settings/column-reading.js';
import type { TomlSchema } from './toml/toml-schema.js';

/** The axes of the grid in a coordinate of a base: names that no list knows, in the unit of the grid. */
export const BASE_COORDINATE_AXES: NonNullable<TomlSchema['others']> = {
  match: /^(?:easting|northing|westing|southing)_[a-z_]+$/,
  shown: 'the two axes of the grid, such as westing_m and southing_m',
  field: { kind: 'number', meaning: "a grid value in the system's own axis and unit" },
};
const COORDINATE: TomlSchema = { named: BASE_COORDINATE_FIELDS, others: BASE_COORDINATE_AXES };
/** The right coordinate of a base: typed, or of a job by reference. */
const KNOWN: TomlSchema = {
  ...COORDINATE,
  named: {
    ...BASE_COORDINATE_FIELDS,
    at: { ...BASE_COORDINATE_FIELDS.at, isRequired: false, byDefault: 'needed where a coordinate is typed' },
    ...BASE_REFERENCE_FIELDS,
    ...BASE_INTERNATIONAL_FIELDS,
  },
};
const PROPORTION: TomlSchema = { named: PROPORTION_FIELDS };

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
    fieldwork: {
      kind: 'table',
      meaning: 'who measured and with what, free text for pages',
      fields: { named: FIELDWORK_FIELDS },
    },
    base: {
      kind: 'tables',
      meaning: 'base set-ups',
      fields: {
        named: {
          ...BASE_FIELDS,
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
          ...BASE_ANTENNA_FIELDS,
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
    table: { kind: 'table', meaning: 'how the files of fixes are written', fields: { named: TABLE_FIELDS } },
    columns: {
      kind: 'readings',
      meaning: "our column name = the file's header (or position), or a table of the settings below",
      byDefault: 'names as they are',
      fields: { named: READING_FIELDS },
    },
    acknowledge: {
      kind: 'texts',
      meaning: 'code of a warning or note = why it is known: said in one line instead of each time, and recorded',
      byDefault: 'none',
    },
  },
};
