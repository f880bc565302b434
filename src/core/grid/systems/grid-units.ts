import { INTERNATIONAL_FOOT_M, US_SURVEY_FOOT_M } from '../../numeric/length-units.js';

/** A unit of grid coordinates. */
export interface GridUnit {
  readonly name: string;
  /** The end of a column name: `m`, `us_survey_ft`, `clarkes_foot`. */
  readonly columnSuffix: string;
  readonly metresPerUnit: number;
}

/**
 * Units by the keyword of `+units`. The two feet differ by two parts in a million, 4 m in the
 * false easting of a large grid, so neither is ever called just a foot.
 * Reference: EPSG-DB, units of measure.
 */
export const UNITS_BY_KEYWORD: Readonly<Record<string, GridUnit>> = {
  m: { name: 'metre', columnSuffix: 'm', metresPerUnit: 1 },
  km: { name: 'kilometre', columnSuffix: 'km', metresPerUnit: 1000 },
  'us-ft': { name: 'US survey foot', columnSuffix: 'us_survey_ft', metresPerUnit: US_SURVEY_FOOT_M },
  ft: { name: 'international foot', columnSuffix: 'international_ft', metresPerUnit: INTERNATIONAL_FOOT_M },
  yd: { name: 'international yard', columnSuffix: 'international_yd', metresPerUnit: 0.9144 },
  link: { name: 'link', columnSuffix: 'link', metresPerUnit: 0.201168 },
  ch: { name: 'chain', columnSuffix: 'chain', metresPerUnit: 20.1168 },
};

/** The registry's other units, by their size. */
const UNITS_BY_SIZE: readonly GridUnit[] = [
  { name: "Clarke's link", columnSuffix: 'clarkes_link', metresPerUnit: 0.201166195164 },
  { name: "Clarke's foot", columnSuffix: 'clarkes_foot', metresPerUnit: 0.3047972654 },
  { name: "Clarke's yard", columnSuffix: 'clarkes_yard', metresPerUnit: 0.9143917962 },
  { name: 'Gold Coast foot', columnSuffix: 'gold_coast_foot', metresPerUnit: 6378300 / 20926201 },
  { name: 'Indian yard', columnSuffix: 'indian_yard', metresPerUnit: 36 / 39.370142 },
  { name: 'German legal metre', columnSuffix: 'german_legal_metre', metresPerUnit: 1.0000135965 },
  { name: 'British foot (Sears 1922)', columnSuffix: 'british_foot_sears_1922', metresPerUnit: 12 / 39.370147 },
  { name: 'British yard (Sears 1922)', columnSuffix: 'british_yard_sears_1922', metresPerUnit: 36 / 39.370147 },
  { name: 'British chain (Sears 1922)', columnSuffix: 'british_chain_sears_1922', metresPerUnit: 792 / 39.370147 },
  {
    name: 'British chain (Sears 1922 truncated)',
    columnSuffix: 'british_chain_sears_1922_truncated',
    metresPerUnit: 20.116756,
  },
];

const EVERY_UNIT: readonly GridUnit[] = [...Object.values(UNITS_BY_KEYWORD), ...UNITS_BY_SIZE];

/** Metres in one unit of a column, by the end of its name, such as `us_survey_ft`; null for a unit we do not know by name. */
export function metresPerUnitNamed(columnSuffix: string): number | null {
  return EVERY_UNIT.find((unit) => unit.columnSuffix === columnSuffix)?.metresPerUnit ?? null;
}

/**
 * The unit of a size given as `+to_meter`; null when none is known.
 *
 * Given: metres in one unit, as written, so agreement to a part in 10^12 counts.
 * Returned: the unit with its exact size.
 */
export function unitOfSize(metresPerUnit: number): GridUnit | null {
  return EVERY_UNIT.find((unit) => Math.abs(unit.metresPerUnit / metresPerUnit - 1) < 1e-12) ?? null;
}
