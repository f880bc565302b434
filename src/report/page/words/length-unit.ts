import { fixed, millimetres } from './numbers.js';

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

/** From so much on a number of millimetres is no longer read. */
const LEAST_OTHER_M = 10;

/** Millimetres for a column of them; from ten metres on in metres or kilometres, with their unit. */
export function millimetresOrMore(valueM: number | null): string {
  if (valueM === null || Math.abs(valueM) < LEAST_OTHER_M) return millimetres(valueM);
  const unit = lengthUnit(Math.abs(valueM));
  return `${unit.write(valueM)} ${unit.name}`;
}

/** From a metre on in metres, from ten kilometres on in kilometres. */
const LEAST_M = 1;
const LEAST_KM = 10_000;

/** The unit for lengths up to a size. */
export function lengthUnit(largestM: number): LengthUnit {
  const { name, perMetre, decimals } = UNITS[largestM >= LEAST_KM ? 'km' : largestM >= LEAST_M ? 'm' : 'mm'];
  return { name, perMetre, write: (valueM) => fixed(valueM === null ? null : valueM * perMetre, decimals) };
}
