import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';

/** The air along a line, as measured: its vapour by relative humidity or by a wet bulb. */
export interface LineAir {
  readonly temperatureC: number;
  readonly pressureHpa: number;
  readonly vapour: { readonly humidityPercent: number } | { readonly wetBulbC: number };
}

/** What an instrument measures with. */
export interface DistanceInstrument {
  /** Carrier wavelength in vacuum, micrometres. */
  readonly wavelengthUm: number;
  /** The refractive index it reckons with, such as 1.000281783. */
  readonly referenceIndex: number;
}

/** Zero of the Celsius scale, kelvin, and the pressure of a standard atmosphere, hPa. */
const ZERO_C_K = 273.15;
const STANDARD_HPA = 1013.25;

/** Pressure of water vapour that air of a temperature holds at most, hPa. */
function saturationHpa(temperatureC: number, pressureHpa: number): number {
  return (1.0007 + 3.46e-6 * pressureHpa) * 6.1121 * Math.exp((17.502 * temperatureC) / (240.94 + temperatureC));
}

/** Pressure of the water vapour in the air, hPa. */
function vapourHpa({ temperatureC, pressureHpa, vapour }: LineAir): number {
  return 'wetBulbC' in vapour
    ? saturationHpa(vapour.wetBulbC, pressureHpa) - 0.000662 * pressureHpa * (temperatureC - vapour.wetBulbC)
    : (saturationHpa(temperatureC, pressureHpa) * vapour.humidityPercent) / 100;
}

/**
 * A distance in the air it was measured in: the first velocity correction.
 *
 * N_g = 287.6155 + 4.8866/λ² + 0.068/λ⁴; C = (n_ref − 1)·10⁶; D = (273.15/1013.25)·N_g;
 * correction = (C − D p/(273.15 + t) + 11.27 e/(273.15 + t))·10⁻⁶·d.
 *
 * Given: the distance as shown, metres, without a correction for the air; the instrument; the air. Returned: the distance in metres.
 *
 * Reference: IAG-1999 closed formula, as in GEODEPY.
 */
export function distanceInAir(
  distanceM: number,
  { wavelengthUm, referenceIndex }: DistanceInstrument,
  air: LineAir,
): number {
  const square = wavelengthUm * wavelengthUm;
  const group = 287.6155 + 4.8866 / square + 0.068 / (square * square);
  const kelvin = ZERO_C_K + air.temperatureC;
  const c = (referenceIndex - 1) * 1e6;
  const d = (ZERO_C_K / STANDARD_HPA) * group;
  const parts = c - (d * air.pressureHpa) / kelvin + (11.27 * vapourHpa(air)) / kelvin;
  return distanceM + parts * 1e-6 * distanceM;
}

/** A line from mark to mark. */
export interface MarkLine {
  readonly slopeM: number;
  readonly horizontalM: number;
  /** To minus from. */
  readonly heightDifferenceM: number;
}

/**
 * A slope distance between instrument and target brought to their marks, by the zenith angle at the instrument.
 *
 * Given: the distance, metres; the zenith angle, degrees; heights of instrument and target above their marks, metres. Returned: the
 * line between the marks. Curvature and refraction are left out: over the metres that separate the marks from the line they are none.
 *
 * Reference: plane trigonometry; example in GEODEPY.
 */
export function markToMark(distanceM: number, zenithDeg: number, instrumentM: number, targetM: number): MarkLine {
  const zenith = zenithDeg * RADIANS_PER_DEGREE;
  const horizontalM = distanceM * Math.sin(zenith);
  const heightDifferenceM = distanceM * Math.cos(zenith) + instrumentM - targetM;
  return { slopeM: Math.hypot(horizontalM, heightDifferenceM), horizontalM, heightDifferenceM };
}
