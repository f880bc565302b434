/** US survey foot, exactly 1200/3937 m (EPSG unit 9003). */
export const US_SURVEY_FOOT_M: number = 1200 / 3937;

/** International foot, exactly 0.3048 m (EPSG unit 9002, there called just "foot"). */
export const INTERNATIONAL_FOOT_M = 0.3048;

export interface LengthUnit {
  /** The registry's name. */
  readonly name: string;
  /** Metres in one unit. */
  readonly metres: number;
}

/** Metres in the yard of Sears 1922: 36 inches, 39.370147 inches to the metre. */
const SEARS_YARD_M = 36 / 39.370147;
/** Metres in the yard of Benoit 1895 B: 39.370113 inches to the metre. */
const BENOIT_B_YARD_M = 36 / 39.370113;
/** Metres in the Indian yard: 39.370142 inches to the metre. */
const INDIAN_YARD_M = 36 / 39.370142;
const CLARKE_FOOT_M = 0.3047972654;

function unit(name: string, metres: number): LengthUnit {
  return { name, metres };
}

/**
 * Units of length of the EPSG registry, by its definitions (numerator over denominator) rather than
 * its printed decimals. Reference: EPSG-DB, table of units of measure.
 */
export const LENGTH_UNITS: readonly LengthUnit[] = [
  unit('metre', 1),
  unit('kilometre', 1000),
  unit('centimetre', 0.01),
  unit('millimetre', 0.001),
  unit('foot', INTERNATIONAL_FOOT_M),
  unit('yard', 0.9144),
  unit('chain', 20.1168),
  unit('link', 0.201168),
  unit('fathom', 1.8288),
  unit('Statute mile', 1609.344),
  unit('nautical mile', 1852),
  unit('US survey foot', US_SURVEY_FOOT_M),
  unit('US survey chain', (66 * 1200) / 3937),
  unit('US survey link', (0.66 * 1200) / 3937),
  unit('US survey mile', (5280 * 1200) / 3937),
  unit('German legal metre', 1.0000135965),
  unit("Clarke's foot", CLARKE_FOOT_M),
  unit("Clarke's yard", 0.9143917962),
  unit("Clarke's chain", 20.1166195164),
  unit("Clarke's link", 0.201166195164),
  unit('British yard (Sears 1922)', SEARS_YARD_M),
  unit('British foot (Sears 1922)', SEARS_YARD_M / 3),
  unit('British chain (Sears 1922)', SEARS_YARD_M * 22),
  unit('British link (Sears 1922)', SEARS_YARD_M * 0.22),
  unit('British yard (Sears 1922 truncated)', 0.914398),
  unit('British foot (Sears 1922 truncated)', 0.914398 / 3),
  unit('British chain (Sears 1922 truncated)', 20.116756),
  unit('British link (Sears 1922 truncated)', 0.20116756),
  unit('British yard (Benoit 1895 A)', 0.9143992),
  unit('British foot (Benoit 1895 A)', 0.9143992 / 3),
  unit('British chain (Benoit 1895 A)', 20.1167824),
  unit('British link (Benoit 1895 A)', 0.201167824),
  unit('British yard (Benoit 1895 B)', BENOIT_B_YARD_M),
  unit('British foot (Benoit 1895 B)', BENOIT_B_YARD_M / 3),
  unit('British chain (Benoit 1895 B)', BENOIT_B_YARD_M * 22),
  unit('British link (Benoit 1895 B)', BENOIT_B_YARD_M * 0.22),
  unit('British foot (1865)', 0.9144025 / 3),
  unit('British foot (1936)', 0.3048007491),
  unit('Indian foot', INDIAN_YARD_M / 3),
  unit('Indian foot (1937)', 0.30479841),
  unit('Indian foot (1962)', 0.3047996),
  unit('Indian foot (1975)', 0.3047995),
  unit('Indian yard', INDIAN_YARD_M),
  unit('Indian yard (1937)', 0.91439523),
  unit('Indian yard (1962)', 0.9143988),
  unit('Indian yard (1975)', 0.9143985),
  unit('Gold Coast foot', 6378300 / 20926201),
];

/** The unit of that registry name, or null. Case counts for nothing; nothing else is guessed. */
export function lengthUnitNamed(name: string): LengthUnit | null {
  const wanted = name.trim().toLowerCase();
  return LENGTH_UNITS.find((candidate) => candidate.name.toLowerCase() === wanted) ?? null;
}
