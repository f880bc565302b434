import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { SHIFT_FIELDS, SHIFT_PARAMETER_FIELDS } from '../../../records/settings/shift-fields.js';
import type {
  RotationConvention,
  RotationMatrixChoice,
  Shift,
  ShiftParameters,
  ShiftRates,
} from './shift-definition.js';
import { shiftMethodNamed } from './shift-method-named.js';
import type { ShiftMethodEntry } from './shift-methods.js';

/** A shift file as it was read; null or absent where the file says nothing. */
export interface ShiftSettings {
  readonly name?: string | null;
  readonly method: string;
  readonly rotationConvention?: RotationConvention | null;
  readonly rotationMatrix?: RotationMatrixChoice | null;
  readonly parameters: { readonly [K in keyof ShiftParameters]?: number | null };
  readonly rates?: { readonly [K in keyof ShiftRates]?: number | null } | null;
  readonly referenceEpochYear?: number | null;
  readonly pivot?: GeocentricPoint | null;
  readonly heights?: 'transformed' | 'kept' | null;
  readonly from?: string | null;
  readonly to?: string | null;
  readonly accuracyM?: number | null;
  readonly source?: string | null;
}

/**
 * A shift from the settings of a shift file, checked as a whole.
 *
 * Given: settings. Returned: the shift; terms not given are 0, heights are transformed, the
 * rotation matrix is `automatic`.
 * Errors: those of `shiftMethodNamed`; shift-convention-missing where rotations are given without a
 * convention; config-missing where a time-dependent method has no reference epoch or a
 * Molodensky-Badekas method no pivot; config-invalid-value where terms are given that the method
 * does not have (they would be ignored in silence), a number is not finite, or a rotation or scale
 * is so large that its unit must be wrong (above 1° or 1000 ppm).
 *
 * @example
 * // PROJ, cct +proj=helmert +convention=position_vector; the same without its convention.
 * const settings = { method: 'position-vector', parameters: { tzM: 4.5, rzArcsec: 0.554, dsPpm: 0.219 } };
 * const shift = shiftFromSettings({ ...settings, rotationConvention: 'position-vector' }).value;
 * const out = { xM: 0, yM: 0, zM: 0 };
 * createShiftFunction(shift, null, 'forward').value(3657660.66, 255768.55, 5201382.11, out);
 * out; // { xM: 3657660.7741, yM: 255778.4300, zM: 5201387.7491 }
 * shiftFromSettings(settings).problems[0].code; // 'shift-convention-missing'
 */
export function shiftFromSettings(settings: ShiftSettings): Outcome<Shift> {
  const parameters = filled(settings.parameters, PARAMETER_KEYS);
  const rates = filled(settings.rates ?? {}, RATE_KEYS);
  const convention = settings.rotationConvention ?? null;
  if (convention === null && TURNING_KEYS.some((key) => parameters[key] !== 0)) {
    return failure(
      errorProblem('shift-convention-missing', {
        message: 'the shift has rotations and rotation_convention is not set',
        expected: 'position-vector or coordinate-frame',
        hint: 'take it from the publisher of the parameters; the wrong one moves points by metres',
      }),
    );
  }
  const method = shiftMethodNamed(settings.method, convention);
  if (!method.ok) return method;
  const entry = method.value;
  const problems = contradictions(settings, entry, parameters, rates);
  if (problems.length > 0) return failureOf(problems);
  return success({
    code: null,
    name: settings.name ?? settings.method,
    method: entry.method,
    parameters,
    rates: entry.timeDependent ? rates : null,
    referenceEpochYear: settings.referenceEpochYear ?? null,
    pivot: settings.pivot ?? null,
    rotationMatrix: settings.rotationMatrix ?? SHIFT_FIELDS.rotation_matrix.default,
    heights: settings.heights ?? SHIFT_FIELDS.heights.default,
    from: settings.from ?? null,
    to: settings.to ?? null,
    accuracyM: settings.accuracyM ?? null,
    area: null,
    source: settings.source ?? null,
  });
}

/** What a method does not have and is given, what it needs and lacks, and numbers whose unit must be wrong. */
function contradictions(
  settings: ShiftSettings,
  entry: ShiftMethodEntry,
  parameters: ShiftParameters,
  rates: ShiftRates,
): readonly Problem[] {
  const problems: Problem[] = [];
  const invalid = (message: string, path: string): void => {
    problems.push(errorProblem('config-invalid-value', { message, where: { path } }));
  };
  const missing = (message: string, path: string): void => {
    problems.push(errorProblem('config-missing', { message, where: { path } }));
  };
  const numbers = [
    ...PARAMETER_KEYS.map((key) => parameters[key]),
    ...RATE_KEYS.map((key) => rates[key]),
    // Only whether all that is given is finite is asked here.
    settings.referenceEpochYear ?? 0,
  ];
  if (!numbers.every((value) => Number.isFinite(value))) invalid('a term of the shift is not a finite number', 'shift');
  if (entry.convention === null && [...TURNING_KEYS, 'dsPpm' as const].some((key) => parameters[key] !== 0)) {
    invalid(`the method ${settings.method} has no rotations and no scale, and some are given`, 'method');
  }
  const hasRates = RATE_KEYS.some((key) => rates[key] !== 0);
  if (hasRates && !entry.timeDependent)
    invalid(`the method ${settings.method} has no rates, and some are given`, 'method');
  const referenceEpochYear = settings.referenceEpochYear ?? null;
  if (entry.timeDependent && referenceEpochYear === null) {
    missing(
      'a time-dependent shift needs reference_epoch_year, the year its parameters hold in',
      'reference_epoch_year',
    );
  }
  if (!entry.timeDependent && referenceEpochYear !== null) {
    invalid(
      `the method ${settings.method} does not change with time, and a reference epoch is given`,
      'reference_epoch_year',
    );
  }
  const pivot = settings.pivot ?? null;
  if (entry.pivoted && pivot === null) missing('a Molodensky-Badekas shift needs its evaluation point', 'pivot_x_m');
  if (!entry.pivoted && pivot !== null)
    invalid(`the method ${settings.method} has no evaluation point, and one is given`, 'pivot_x_m');
  if (pivot !== null && !Number.isFinite(pivot.xM + pivot.yM + pivot.zM))
    invalid('the evaluation point is not finite', 'pivot_x_m');
  if (TURNING_KEYS.some((key) => Math.abs(parameters[key]) > 3600))
    invalid('a rotation above 3600 seconds of arc: check its unit', 'rx_arcsec');
  if (Math.abs(parameters.dsPpm) > 1000)
    invalid('a scale difference above 1000 ppm: check its unit, and that it is not the scale itself', 'ds_ppm');
  return problems;
}

const PARAMETER_KEYS = ['txM', 'tyM', 'tzM', 'rxArcsec', 'ryArcsec', 'rzArcsec', 'dsPpm'] as const;
const TURNING_KEYS = ['rxArcsec', 'ryArcsec', 'rzArcsec'] as const;
const RATE_KEYS = [
  'txMPerYear',
  'tyMPerYear',
  'tzMPerYear',
  'rxArcsecPerYear',
  'ryArcsecPerYear',
  'rzArcsecPerYear',
  'dsPpmPerYear',
] as const;

/** The given numbers under the given keys, where absent the default of every term: 0. */
function filled<K extends string>(
  given: Partial<Readonly<Record<K, number | null>>>,
  keys: readonly K[],
): Record<K, number> {
  const result = {} as Record<K, number>;
  for (const key of keys) result[key] = given[key] ?? SHIFT_PARAMETER_FIELDS.tx_m.default;
  return result;
}
