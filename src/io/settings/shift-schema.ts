import type { MethodKey } from '../../core/frames/methods/filed-method.js';
import { FILED_METHODS } from '../../core/frames/methods/filed-methods.js';
import type { TomlField, TomlSchema } from './toml-schema.js';

const number = (meaning: string): TomlField => ({ kind: 'number', minimum: -1e9, maximum: 1e9, meaning });
const year = (meaning: string): TomlField => ({ kind: 'number', minimum: 1900, maximum: 2200, meaning });

const filed = ({ meaning, minimum, maximum }: MethodKey): TomlField => ({
  ...number(meaning),
  ...(minimum !== undefined && { minimum }),
  ...(maximum !== undefined && { maximum }),
});

/** Every key of a shift file. docs/shift-files.md says which method has which. */
export const SHIFT_SCHEMA: TomlSchema = {
  named: {
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
      byDefault: 'automatic: full above 2 seconds',
    },
    heights: {
      kind: 'text',
      choices: ['transformed', 'kept'],
      meaning: 'kept where one of the two frames has no ellipsoidal heights',
      byDefault: 'transformed',
    },
    tx_m: number('translation along X'),
    ty_m: number('translation along Y'),
    tz_m: number('translation along Z'),
    rx_arcsec: number('rotation about X'),
    ry_arcsec: number('rotation about Y'),
    rz_arcsec: number('rotation about Z'),
    ds_ppm: number('scale difference, parts per million'),
    tx_m_per_year: number('rate of tx_m'),
    ty_m_per_year: number('rate of ty_m'),
    tz_m_per_year: number('rate of tz_m'),
    rx_arcsec_per_year: number('rate of rx_arcsec'),
    ry_arcsec_per_year: number('rate of ry_arcsec'),
    rz_arcsec_per_year: number('rate of rz_arcsec'),
    ds_ppm_per_year: number('rate of ds_ppm'),
    reference_epoch_year: year('year in which the parameters hold; needed with rates'),
    pivot_x_m: number('evaluation point of Molodensky-Badekas, X'),
    pivot_y_m: number('evaluation point, Y'),
    pivot_z_m: number('evaluation point, Z'),
    ...Object.fromEntries(
      FILED_METHODS.flatMap(({ keys }) => Object.entries(keys)).map(([key, field]) => [key, filed(field)]),
    ),
  },
};
