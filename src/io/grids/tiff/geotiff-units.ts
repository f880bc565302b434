import { lengthUnitNamed } from '../../../core/numeric/length-units.js';
import { ownEntry } from '../../../core/numeric/own-entry.js';

/** Units that the samples of a geodetic TIFF may be in, by UNITTYPE, as numbers of one of ours. */
export interface SampleUnits {
  /** Ours in one of the file's; null: not known. */
  readonly factorOf: (name: string) => number | null;
  /** The unit where the file names none. */
  readonly absent: string;
  /** What would do, for people. */
  readonly words: string;
}

const METRES = ['m', 'meter', 'metres', 'meters'];
const ARCSECONDS: Readonly<Record<string, number>> = {
  'arc-second': 1,
  degree: 3600,
  radian: (180 / Math.PI) * 3600,
};
const METRES_PER_YEAR: Readonly<Record<string, number>> = {
  'millimetres per year': 0.001,
  'millimeters per year': 0.001,
  'mm/yr': 0.001,
  'metres per year': 1,
  'meters per year': 1,
  'm/yr': 1,
};

/** Metres in a unit of length. Reference: GTG, UNITTYPE: the names of the registry. */
export const LENGTHS: SampleUnits = {
  factorOf: (name) => (METRES.includes(name) ? 1 : (lengthUnitNamed(name)?.metres ?? null)),
  absent: 'metre',
  words: 'metre, or a unit of length by its registry name',
};

/** Seconds of arc in a unit of angle. */
export const ANGLES: SampleUnits = {
  factorOf: (name) => ownEntry(ARCSECONDS, name) ?? null,
  absent: 'arc-second',
  words: 'arc-second, degree or radian',
};

/** Metres per year in a unit of velocity. */
export const VELOCITIES: SampleUnits = {
  factorOf: (name) => ownEntry(METRES_PER_YEAR, name) ?? null,
  absent: 'millimetres per year',
  words: Object.keys(METRES_PER_YEAR).join(', '),
};
