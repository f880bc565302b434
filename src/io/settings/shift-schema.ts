import type { MethodKey } from '../../core/frames/methods/filed-method.js';
import { FILED_METHODS } from '../../core/frames/methods/filed-methods.js';
import {
  SHIFT_FIELDS,
  SHIFT_PARAMETER_FIELDS,
  SHIFT_PLACE_FIELDS,
  SHIFT_RATE_FIELDS,
} from '../../records/settings/shift-fields.js';
import type { TomlField, TomlSchema } from './toml/toml-schema.js';

/** A key of a filed method says its range where it has one of its own. */
const filed = ({ meaning, minimum, maximum }: MethodKey): TomlField => ({
  kind: 'number',
  // Absent: as wide as the parameters of a shift.
  minimum: minimum ?? SHIFT_PARAMETER_FIELDS.tx_m.minimum,
  maximum: maximum ?? SHIFT_PARAMETER_FIELDS.tx_m.maximum,
  meaning,
});

/** Every key of a shift file. docs/shift-files.md says which method has which. */
export const SHIFT_SCHEMA: TomlSchema = {
  named: {
    ...SHIFT_FIELDS,
    ...SHIFT_PARAMETER_FIELDS,
    ...SHIFT_RATE_FIELDS,
    ...SHIFT_PLACE_FIELDS,
    ...Object.fromEntries(
      FILED_METHODS.flatMap(({ keys }) => Object.entries(keys)).map(([key, field]) => [key, filed(field)]),
    ),
  },
};
