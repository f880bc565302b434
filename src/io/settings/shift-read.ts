import type { FiledMethod, MethodAction } from '../../core/frames/methods/filed-method.js';
import { FILED_METHODS } from '../../core/frames/methods/filed-methods.js';
import type { Shift } from '../../core/frames/shifts/shift-definition.js';
import { shiftFromSettings } from '../../core/frames/shifts/shift-from-settings.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { locateProblem } from '../../records/problem.js';
import { SHIFT_SCHEMA } from './shift-schema.js';
import { readToml } from './toml-table.js';
import type { TomlTable } from './toml-table.js';

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
  const method = (table.text('method') ?? '')
    .trim()
    .toLowerCase()
    .replace(/[-_\s]+/gu, ' ');
  const filed = FILED_METHODS.find(({ name, code }) => name === method || code.toLowerCase() === method);
  if (filed !== undefined) return filedShift(table, filed);
  const strange = table.keys.find((key) => METHOD_KEYS.includes(key));
  if (strange !== undefined)
    return failure(
      table.problem(
        'config-invalid-value',
        strange,
        `${strange} does not belong to the method ${table.text('method') ?? ''}`,
      ),
    );
  const n = table.number;
  const pivot = ['pivot_x_m', 'pivot_y_m', 'pivot_z_m'].map((key) => n(key));
  const [px, py, pz] = pivot;
  if (pivot.some((value) => value !== null) && pivot.some((value) => value === null)) {
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
    name: table.text('name'),
    method: table.text('method') ?? '',
    rotationConvention: table.text('rotation_convention') as 'position-vector' | 'coordinate-frame' | null,
    rotationMatrix: table.text('rotation_matrix') as Shift['rotationMatrix'] | null,
    parameters: {
      txM: n('tx_m'),
      tyM: n('ty_m'),
      tzM: n('tz_m'),
      rxArcsec: n('rx_arcsec'),
      ryArcsec: n('ry_arcsec'),
      rzArcsec: n('rz_arcsec'),
      dsPpm: n('ds_ppm'),
    },
    rates: {
      txMPerYear: n('tx_m_per_year'),
      tyMPerYear: n('ty_m_per_year'),
      tzMPerYear: n('tz_m_per_year'),
      rxArcsecPerYear: n('rx_arcsec_per_year'),
      ryArcsecPerYear: n('ry_arcsec_per_year'),
      rzArcsecPerYear: n('rz_arcsec_per_year'),
      dsPpmPerYear: n('ds_ppm_per_year'),
    },
    referenceEpochYear: n('reference_epoch_year'),
    pivot: px == null || py == null || pz == null ? null : { xM: px, yM: py, zM: pz },
    heights: table.text('heights') as Shift['heights'] | null,
    from: table.text('from'),
    to: table.text('to'),
    accuracyM: n('accuracy_m'),
    source: table.text('source'),
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
  return success({
    kind: 'method',
    action: action.value,
    name: table.text('name') ?? method.name,
    methodCode: method.code,
    from: table.text('from'),
    to: table.text('to'),
    accuracyM: table.number('accuracy_m'),
    source: table.text('source'),
  });
}
