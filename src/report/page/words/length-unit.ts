import { fixed } from './numbers.js';

/** A unit in which lengths of a size are read without counting noughts. */
export interface LengthUnit {
  readonly name: 'mm' | 'm' | 'km';
  readonly perMetre: number;
  /** A length in it, with the decimals of a tenth of a millimetre, a millimetre and a metre. */
  readonly write: (valueM: number | null) => string;
}

const UNITS = {
  mm: { name: 'mm', perMetre: 1000, decimals: 1 },
  m: { name: 'm', perMetre: 1, decimals: 3 },
  km: { name: 'km', perMetre: 1e-3, decimals: 3 },
} as const;

/** From a metre on in metres, from ten kilometres on in kilometres. */
const LEAST_M = 1;
const LEAST_KM = 10_000;

/** The unit for lengths up to a size. */
export function lengthUnit(largestM: number): LengthUnit {
  const { name, perMetre, decimals } = UNITS[largestM >= LEAST_KM ? 'km' : largestM >= LEAST_M ? 'm' : 'mm'];
  return { name, perMetre, write: (valueM) => fixed(valueM === null ? null : valueM * perMetre, decimals) };
}
