import { createAffine2d } from '../../core/grid/plane/affine-2d.js';
import { createSimilarity2d } from '../../core/grid/plane/similarity-2d.js';
import type { PlaneTransformation } from '../../core/grid/plane/similarity-2d.js';
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

/** The contents of a shift file: between frames, in the plane, or of heights alone. */
export type ShiftFile =
  | { readonly kind: 'geocentric'; readonly shift: Shift }
  | ({ readonly kind: 'plane'; readonly transformation: PlaneTransformation } & Described)
  | ({ readonly kind: 'vertical'; readonly slope: VerticalSettings } & Described);

/** Parameters of the vertical methods; without inclinations it is a plain offset. */
export interface VerticalSettings {
  readonly offsetM: number;
  readonly originLatitudeDeg: number;
  readonly originLongitudeDeg: number;
  readonly inclinationLatitudeArcsec: number;
  readonly inclinationLongitudeArcsec: number;
}

const COMMON = ['method', 'name', 'source', 'from', 'to', 'accuracy_m'];
const SIMILARITY = ['first_origin', 'second_origin', 'scale_factor', 'rotation_arcsec'] as const;
const AFFINE = ['a0', 'a1', 'a2', 'b0', 'b1', 'b2'] as const;
const OFFSET = ['vertical_offset_m'] as const;
const SLOPE = [
  ...OFFSET,
  'origin_latitude_deg',
  'origin_longitude_deg',
  'inclination_latitude_arcsec',
  'inclination_longitude_arcsec',
] as const;

/** Methods that do not act on geocentric coordinates, by name and code, with the keys each needs: all of them. */
const OTHERS = [
  { names: ['similarity transformation', 'epsg:9621'], code: 'EPSG:9621', keys: SIMILARITY },
  { names: ['affine parametric transformation', 'epsg:9624'], code: 'EPSG:9624', keys: AFFINE },
  { names: ['vertical offset', 'epsg:9616'], code: 'EPSG:9616', keys: OFFSET },
  { names: ['vertical offset and slope', 'epsg:1046'], code: 'EPSG:1046', keys: SLOPE },
] as const;

const OTHER_KEYS: readonly string[] = [...SIMILARITY, ...AFFINE, ...SLOPE];

/**
 * A shift from the text of a shift file (docs/shift-files.md).
 *
 * Given: the text; the file's name for problems. Returned: the shift, ready or as data.
 * Problems: those of `readToml` and of `shiftFromSettings` (shift-convention-missing among them),
 * of `createSimilarity2d` and `createAffine2d`; config-missing and config-invalid-value where the
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
  const other = OTHERS.find((entry) => entry.names.some((name) => name === method));
  if (other !== undefined) return otherShift(table, other);
  const strange = table.keys.find((key) => OTHER_KEYS.includes(key));
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

function otherShift(table: TomlTable, { names, code, keys }: (typeof OTHERS)[number]): Outcome<ShiftFile> {
  const wanted: readonly string[] = keys;
  const missing = wanted.filter((key) => table.number(key) === null);
  if (missing.length > 0)
    return failure(table.problem('config-missing', '', `the method ${names[0]} needs ${missing.join(', ')}`));
  const strange = table.keys.find((key) => !COMMON.includes(key) && !wanted.includes(key));
  if (strange !== undefined)
    return failure(
      table.problem('config-invalid-value', strange, `${strange} does not belong to the method ${names[0]}`),
    );
  const n = (key: string): number => table.number(key) ?? 0;
  const described: Described = {
    name: table.text('name') ?? names[0],
    methodCode: code,
    from: table.text('from'),
    to: table.text('to'),
    accuracyM: table.number('accuracy_m'),
    source: table.text('source'),
  };
  if (code === 'EPSG:9616' || code === 'EPSG:1046') {
    const slope: VerticalSettings = {
      offsetM: n('vertical_offset_m'),
      originLatitudeDeg: n('origin_latitude_deg'),
      originLongitudeDeg: n('origin_longitude_deg'),
      inclinationLatitudeArcsec: n('inclination_latitude_arcsec'),
      inclinationLongitudeArcsec: n('inclination_longitude_arcsec'),
    };
    return success({ kind: 'vertical', slope, ...described });
  }
  const made =
    code === 'EPSG:9621'
      ? createSimilarity2d({
          first0: n('first_origin'),
          second0: n('second_origin'),
          scale: n('scale_factor'),
          rotationArcsec: n('rotation_arcsec'),
        })
      : createAffine2d({ a0: n('a0'), a1: n('a1'), a2: n('a2'), b0: n('b0'), b1: n('b1'), b2: n('b2') });
  return made.ok ? success({ kind: 'plane', transformation: made.value, ...described }) : made;
}
