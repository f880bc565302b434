import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Shift, ShiftParameters } from './shift-definition.js';

/**
 * The parameters of a shift at an epoch: p(t) = p₀ + ṗ (t − t₀).
 *
 * Given: the shift; the epoch of the coordinates, decimal year, or null. Returned: the seven
 * parameters; a shift without rates gives its own whatever the epoch.
 * Errors: shift-epoch-missing where the shift has rates and no epoch is given; config-missing where
 * it has rates and no reference epoch; config-invalid-value where a number is not finite.
 * Reference: IOGP-373-7-2, EPSG methods 1053 and 1056.
 */
export function shiftParametersAt(shift: Shift, epochYear: number | null): Outcome<ShiftParameters> {
  const p = shift.parameters;
  const rates = shift.rates;
  if (rates === null) return checked(shift, p);
  if (shift.referenceEpochYear === null) {
    return failure(
      errorProblem('config-missing', {
        message: `shift ${shift.name} has rates and no reference epoch`,
        hint: 'set reference_epoch_year to the year in which its parameters hold',
      }),
    );
  }
  if (epochYear === null) {
    return failure(
      errorProblem('shift-epoch-missing', {
        message: `shift ${shift.name} changes with time and the epoch of the coordinates is not given`,
        hint: 'give --epoch YEAR or system.epoch_year',
      }),
    );
  }
  const dt = epochYear - shift.referenceEpochYear;
  return checked(shift, {
    txM: p.txM + rates.txMPerYear * dt,
    tyM: p.tyM + rates.tyMPerYear * dt,
    tzM: p.tzM + rates.tzMPerYear * dt,
    rxArcsec: p.rxArcsec + rates.rxArcsecPerYear * dt,
    ryArcsec: p.ryArcsec + rates.ryArcsecPerYear * dt,
    rzArcsec: p.rzArcsec + rates.rzArcsecPerYear * dt,
    dsPpm: p.dsPpm + rates.dsPpmPerYear * dt,
  });
}

function checked(shift: Shift, p: ShiftParameters): Outcome<ShiftParameters> {
  for (const value of Object.values(p) as readonly number[]) {
    if (!Number.isFinite(value)) {
      return failure(
        errorProblem('config-invalid-value', {
          message: `shift ${shift.name} has a parameter or an epoch that is not a finite number`,
          received: String(value),
        }),
      );
    }
  }
  return success(p);
}
