import type { NumberForm } from '../../explain/lines/worked-lines.js';

const form = (unit: string, perOne: number, decimals: number): NumberForm => ({ unit, perOne, decimals });

/** Approximate coordinates, whole centimetres; metres given. */
export const ABOUT: NumberForm = form(' m', 1, 2);
/** A correction or shared error that a step starts from; metres given. */
export const SHIFT: NumberForm = form(' mm', 1000, 6);
/** A small length that is worked out; metres given. */
export const FOUND: NumberForm = form(' mm', 1000, 3);
export const TWO: NumberForm = form('', 1, 2);
export const THREE: NumberForm = form('', 1, 3);
/** A direction cosine. */
export const COSINE: NumberForm = form('', 1, 10);

/** Digits of a covariance that weights are made from: the cofactors of three numbers that correlate lose some. */
const COVARIANCE_DIGITS = 12;
const WEIGHT_DIGITS = 7;
const MOST_DECIMALS = 20;

/** A form with so many digits for the largest of some numbers. */
function digitsFor(values: readonly number[], digits: number, unit: string, perOne: number): NumberForm {
  const largest = values.reduce((most, value) => Math.max(most, Math.abs(value * perOne)), 0);
  const above = largest === 0 ? 0 : Math.floor(Math.log10(largest)) + 1;
  return form(unit, perOne, Math.min(MOST_DECIMALS, Math.max(0, digits - above)));
}

/** Covariances; m² given. */
export const covarianceForm = (values: readonly number[]): NumberForm =>
  digitsFor(values, COVARIANCE_DIGITS, ' mm²', 1e6);
/** The determinant of three by three of them; m⁶ given. */
export const determinantForm = (value: number): NumberForm => digitsFor([value], WEIGHT_DIGITS, ' mm⁶', 1e18);
/** Weights; 1/m² given. */
export const weightForm = (values: readonly number[]): NumberForm => digitsFor(values, WEIGHT_DIGITS, ' /mm²', 1e-6);
/** The determinant of three by three of them; 1/m⁶ given. */
export const weightDeterminantForm = (value: number): NumberForm => digitsFor([value], WEIGHT_DIGITS, ' /mm⁶', 1e-18);
/** Weights times corrections, of which a thousandth of a millimetre is known; 1/m given. */
export const weightedForm = (weights: readonly number[]): NumberForm =>
  form(' /mm', 1e-3, digitsFor(weights, 3, '', 1e-6).decimals);

/** A length to the nearest whole centimetre, as `ABOUT` writes it. */
export const about = (value: number): number => Math.round(value * 100) / 100;
