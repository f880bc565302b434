import type { FiledMethod, MethodAction } from '../../core/frames/methods/filed-method.js';
import { FILED_METHODS } from '../../core/frames/methods/filed-methods.js';
import type { Shift } from '../../core/frames/shifts/shift-definition.js';
import { shiftFromSettings } from '../../core/frames/shifts/shift-from-settings.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';
import {
  SHIFT_FIELDS,
  SHIFT_PARAMETER_FIELDS,
  SHIFT_PLACE_FIELDS,
  SHIFT_RATE_FIELDS,
} from '../../records/settings/shift-fields.js';
import { settingsIn } from './settings-in.js';
import { SHIFT_SCHEMA } from './shift-schema.js';
import { readToml } from './toml/toml-table.js';
import type { TomlTable } from './toml/toml-table.js';
import { present } from '../../records/present.js';

/** What every shift file says besides its parameters. */
interface Described {
  readonly name: string;
  /** EPSG code of the method, `EPSG:9621`. */
  readonly methodCode: string;
  readonly from: string | null;
  readonly to: string | null;
  readonly accuracyM: number | null;
  readonly source: string | null;
}

/** The contents of a shift file: between frames in space, or another method with its parameters. */
export type ShiftFile =
  | { readonly kind: 'geocentric'; readonly shift: Shift }
  | ({ readonly kind: 'method'; readonly action: MethodAction } & Described);

const COMMON = ['method', 'name', 'source', 'from', 'to', 'accuracy_m'];
const METHOD_KEYS: readonly string[] = FILED_METHODS.flatMap(({ keys }) => Object.keys(keys));

/**
 * A shift from the text of a shift file (docs/shift-files.md).
 *
 * Given: the text; the file's name for problems. Returned: the shift, ready or as data.
 * Problems: those of `readToml` and of `shiftFromSettings` (shift-convention-missing among them),
 * of the methods of `FILED_METHODS`; config-missing and config-invalid-value where the
 * keys are not those of the method.
 */
export function readShift(text: string, source: string): Outcome<ShiftFile> {
  const read = readToml(text, source, SHIFT_SCHEMA);
  if (!read.ok) return read;
  const { table } = read.value;
  const result = shiftOf(table);
  return result.ok ? result : failureOf(result.problems.map((problem) => locateProblem(problem, { source })));
}

function shiftOf(table: TomlTable): Outcome<ShiftFile> {
  const named = present(table.text('method'), 'method');
  const method = named
    .trim()
    .toLowerCase()
    .replace(/[-_\s]+/gu, ' ');
  const filed = FILED_METHODS.find(({ name, code }) => name === method || code.toLowerCase() === method);
  if (filed !== undefined) return filedShift(table, filed);
  const strange = table.keys.find((key) => METHOD_KEYS.includes(key));
  if (strange !== undefined)
    return failure(table.problem('config-invalid-value', strange, `${strange} does not belong to the method ${named}`));
  const place = settingsIn(table, SHIFT_PLACE_FIELDS);
  const { pivotXM: xM, pivotYM: yM, pivotZM: zM, referenceEpochYear } = place;
  const pivot = xM === null || yM === null || zM === null ? null : { xM, yM, zM };
  if (pivot === null && [xM, yM, zM].some((value) => value !== null)) {
    return failure(
      table.problem(
        'config-missing',
        '',
        'the evaluation point is not whole',
        'give pivot_x_m, pivot_y_m and pivot_z_m',
      ),
    );
  }
  const shift = shiftFromSettings({
    ...settingsIn(table, SHIFT_FIELDS),
    parameters: settingsIn(table, SHIFT_PARAMETER_FIELDS),
    rates: settingsIn(table, SHIFT_RATE_FIELDS),
    referenceEpochYear,
    pivot,
  });
  return shift.ok ? success({ kind: 'geocentric', shift: shift.value }) : shift;
}

function filedShift(table: TomlTable, method: FiledMethod): Outcome<ShiftFile> {
  const parameters: Record<string, number> = {};
  const missing: string[] = [];
  for (const key of Object.keys(method.keys)) {
    const value = table.number(key);
    if (value === null) missing.push(key);
    else parameters[key] = value;
  }
  if (missing.length > 0)
    return failure(table.problem('config-missing', '', `the method ${method.name} needs ${missing.join(', ')}`));
  const strange = table.keys.find((key) => !COMMON.includes(key) && !Object.hasOwn(method.keys, key));
  if (strange !== undefined)
    return failure(
      table.problem('config-invalid-value', strange, `${strange} does not belong to the method ${method.name}`),
    );
  const action = method.make(parameters);
  if (!action.ok) return action;
  const said = settingsIn(table, SHIFT_FIELDS);
  return success({
    kind: 'method',
    action: action.value,
    name: said.name ?? method.name,
    methodCode: method.code,
    from: said.from,
    to: said.to,
    accuracyM: said.accuracyM,
    source: said.source,
  });
}
