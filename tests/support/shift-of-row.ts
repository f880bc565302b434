import type { RotationMatrixChoice, Shift, ShiftMethod } from '../../src/core/frames/shifts/shift-definition.js';
import type { GeocentricPoint } from '../../src/records/points/point.js';
import type { ReferenceRow } from './read-reference-table.js';

/** A list of three numbers as a geocentric position, metres. */
export function geocentricOf(numbers: readonly number[]): GeocentricPoint {
  const [xM, yM, zM] = numbers;
  if (xM === undefined || yM === undefined || zM === undefined) throw new Error('three numbers are needed');
  return { xM, yM, zM };
}

/** The shift of a row of tests/reference/shifts.csv. */
export function shiftOfRow(row: ReferenceRow): Shift {
  const t = geocentricOf(row.numbers('t_m'));
  const r = geocentricOf(row.numbers('r_arcsec'));
  const timeDependent = row.text('reference_epoch_year') !== '';
  const tr = timeDependent ? geocentricOf(row.numbers('t_rate_m_per_year')) : null;
  const rr = timeDependent ? geocentricOf(row.numbers('r_rate_arcsec_per_year')) : null;
  return shiftWith(row.text('method') as ShiftMethod, {
    name: row.case,
    parameters: {
      txM: t.xM,
      tyM: t.yM,
      tzM: t.zM,
      rxArcsec: r.xM,
      ryArcsec: r.yM,
      rzArcsec: r.zM,
      dsPpm: row.number('ds_ppm'),
    },
    rates:
      tr === null || rr === null
        ? null
        : {
            txMPerYear: tr.xM,
            tyMPerYear: tr.yM,
            tzMPerYear: tr.zM,
            rxArcsecPerYear: rr.xM,
            ryArcsecPerYear: rr.yM,
            rzArcsecPerYear: rr.zM,
            dsPpmPerYear: row.number('ds_rate_ppm_per_year'),
          },
    rotationMatrix: row.text('rotation_matrix') as RotationMatrixChoice,
    referenceEpochYear: row.numberOrNull('reference_epoch_year'),
    pivot: row.text('pivot_m') === '' ? null : geocentricOf(row.numbers('pivot_m')),
  });
}

/** A shift of a method with nothing in it but what is given. */
export function shiftWith(method: ShiftMethod, given: Partial<Shift>): Shift {
  return {
    code: null,
    name: method,
    method,
    parameters: { txM: 0, tyM: 0, tzM: 0, rxArcsec: 0, ryArcsec: 0, rzArcsec: 0, dsPpm: 0 },
    rates: null,
    referenceEpochYear: null,
    pivot: null,
    rotationMatrix: 'automatic',
    heights: 'transformed',
    from: null,
    to: null,
    accuracyM: null,
    area: null,
    source: null,
    ...given,
  };
}

/** The value of an outcome; throws its first problem when it has none. */
export function valueOf<T>(
  outcome:
    | { readonly ok: true; readonly value: T }
    | { readonly ok: false; readonly problems: readonly { readonly message: string }[] },
): T {
  if (!outcome.ok) throw new Error(outcome.problems[0]?.message ?? 'no value');
  return outcome.value;
}

/** The greatest difference of a coordinate of two positions, metres. */
export function apartM(one: GeocentricPoint, other: GeocentricPoint): number {
  return Math.max(Math.abs(one.xM - other.xM), Math.abs(one.yM - other.yM), Math.abs(one.zM - other.zM));
}
