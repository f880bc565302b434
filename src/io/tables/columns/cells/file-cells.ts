import { ANGLE_FORMS } from '../../../../core/numeric/text/angle-form.js';
import type { AngleWriting } from '../../../../core/numeric/text/angle-form.js';
import { INTERNATIONAL_FOOT_M, US_SURVEY_FOOT_M } from '../../../../core/numeric/length-units.js';
import { timeForm, zoneMinutesOf } from '../../../../core/numeric/text/time-form.js';
import { HORIZONTAL_95 } from '../../../../core/observation/uncertainty/confidence-factors.js';
import { metresPerUnitNamed } from '../../../../core/grid/systems/grid-units.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { ColumnReading, FileUnit } from '../../../../records/settings/column-reading.js';
import type { DescribedColumn } from '../column.js';

/** What is said of the cells of a column is looked at by these of its properties. */
export type ReadColumn = Pick<DescribedColumn, 'name' | 'kind' | 'words' | 'isMappedOnly'>;

const METRES: Readonly<Partial<Record<FileUnit, number>>> = {
  m: 1,
  cm: 0.01,
  mm: 0.001,
  ft: INTERNATIONAL_FOOT_M,
  usft: US_SURVEY_FOOT_M,
};
/** One sigma per axis, of one figure for both. */
const PER_AXIS: Readonly<Record<NonNullable<ColumnReading['means']>, number>> = {
  'per-axis': 1,
  drms: Math.SQRT1_2,
  '95': 1 / HORIZONTAL_95,
};

/** Metres in the unit that the end of a column's name says; null where it says no length. */
function metresOf(name: string): number | null {
  if (name.endsWith('_m')) return 1;
  return metresPerUnitNamed(name.slice(name.indexOf('_') + 1));
}

const isAngle = ({ kind }: ReadColumn): boolean =>
  kind === 'latitude' || kind === 'longitude' || kind === 'direction' || kind === 'angle' || kind === 'number';

/** What a number of the file is multiplied with to be one of ours: of lengths, and of one figure for two axes. */
export function lengthFactor(name: string, { unit, means }: ColumnReading): number {
  const theirs = unit === undefined ? null : (METRES[unit] ?? null);
  const ours = metresOf(name);
  return (theirs === null || ours === null ? 1 : theirs / ours) * (means === undefined ? 1 : PER_AXIS[means]);
}

/** Ours in one unit of the file's last digit: of lengths their factor, of angles that of gon or radians; degrees, minutes and seconds speak for themselves. */
export function cellFactor(name: string, reading: ColumnReading): number {
  if (reading.unit === 'gon') return 0.9;
  return reading.unit === 'rad' ? 180 / Math.PI : lengthFactor(name, reading);
}

/** How the angles of a column are written. */
export function angleWriting({ unit, form }: ColumnReading): AngleWriting {
  if (unit === 'dms') return ANGLE_FORMS.find((packed) => packed === form) ?? 'dms';
  return unit === 'gon' || unit === 'rad' ? unit : 'deg';
}

/** Minutes east of UTC that a reading says of its times. */
export function zoneOf({ zone }: ColumnReading): number | null {
  return zone === undefined ? null : zoneMinutesOf(zone);
}

/** config-invalid-value for what is said of a column's cells and does not go with the column, or with what else is said. */
export function readingProblems(column: ReadColumn, source: string | ColumnReading): readonly Problem[] {
  const faults =
    typeof source === 'string'
      ? column.isMappedOnly === true
        ? [[`${column.name} does not say what its figure means`, 'say means = "per-axis", "drms" or "95"'] as const]
        : []
      : [
          ...unitFaults(column, source),
          ...wordFaults(column, source),
          ...timeFaults(column, source),
          ...meansFaults(column, source),
        ];
  return faults.map(([message, hint]) =>
    errorProblem('config-invalid-value', { message, where: { path: `columns.${column.name}` }, hint }),
  );
}

type Fault = readonly [message: string, hint: string];

function unitFaults(column: ReadColumn, { unit, form, headers }: ColumnReading): readonly Fault[] {
  const { name, kind } = column;
  const faults: Fault[] = [];
  if (headers.length === 2 && kind !== 'time' && kind !== 'latitude' && kind !== 'longitude')
    faults.push([`${name} is read from one column, not from two`, 'name one header']);
  if (kind === 'time') {
    if (unit !== undefined) faults.push([`${name} is a time and has no unit`, 'say its form']);
    return faults;
  }
  if (form !== undefined && !(unit === 'dms' && ANGLE_FORMS.some((packed) => packed === form)))
    faults.push([
      `${name} has no form "${form}"`,
      `a form is of times, or with unit = "dms" one of ${ANGLE_FORMS.join(', ')}`,
    ]);
  if (unit === undefined) return faults;
  const isLength = METRES[unit] !== undefined;
  const takes = isLength ? kind === 'number' && metresOf(name) !== null : isAngle(column) && name.endsWith('_deg');
  if (!takes) faults.push([`${name} is not in ${unit}`, isLength ? 'the unit is of lengths' : 'the unit is of angles']);
  return faults;
}

function wordFaults({ name, kind, words: own }: ReadColumn, { words }: ColumnReading): readonly Fault[] {
  if (words === undefined) return [];
  if (kind !== 'word' || own === undefined) return [[`${name} has no words to translate`, 'leave words out']];
  const values = [...new Set([...own.values()].map(String))];
  return Object.entries(words)
    .filter(([, ours]) => !own.has(ours.toLowerCase()))
    .map(([theirs, ours]): Fault => [
      `"${theirs}" of ${name} cannot be "${ours}"`,
      `words of ours: ${values.join(', ')}`,
    ]);
}

function timeFaults({ name, kind }: ReadColumn, reading: ColumnReading): readonly Fault[] {
  const { form, zone, scale, leapSeconds, headers } = reading;
  if (kind !== 'time')
    return zone !== undefined || scale !== undefined || leapSeconds !== undefined
      ? [[`${name} is no time`, 'zone, scale and leap_seconds are of times']]
      : [];
  const faults: Fault[] = [];
  const made = form === undefined ? null : timeForm(form);
  if (form !== undefined && made?.isForm === false)
    faults.push([`"${form}" is no form of time: ${made.why}`, 'for example YYYY-MM-DD HH:mm:ss']);
  if (form === undefined && headers.length === 2)
    faults.push([`${name} is read from two columns and has no form`, 'say form = "YYYY-MM-DD HH:mm:ss" or as it is']);
  if (zone !== undefined && zoneMinutesOf(zone) === null)
    faults.push([`"${zone}" is no zone`, 'write it as "+02:00", "-03:30" or "Z"']);
  if (scale === 'gps' && leapSeconds === undefined)
    faults.push([`${name} is in GPS time without leap_seconds`, 'say GPS time minus UTC: 18 seconds since 2017']);
  if (scale !== 'gps' && leapSeconds !== undefined)
    faults.push([`${name} has leap_seconds and is in UTC`, 'say scale = "gps", or leave leap_seconds out']);
  if (scale === 'gps' && zone !== undefined)
    faults.push([`${name} is in GPS time, which has no zone`, 'leave zone out']);
  if (form === 'gps-week-seconds' && scale !== 'gps')
    faults.push([`${name} counts GPS weeks`, 'say scale = "gps" and leap_seconds']);
  if (made?.isForm === true && made.statesZone && zone !== undefined)
    faults.push([`the form of ${name} states the zone itself`, 'leave zone out']);
  if (made?.isForm === true && !made.statesZone && zone === undefined && scale !== 'gps')
    faults.push([`${name} does not state its zone`, 'say zone = "+02:00", or "Z" for UTC']);
  return faults;
}

function meansFaults({ name, isMappedOnly }: ReadColumn, { means }: ColumnReading): readonly Fault[] {
  if (isMappedOnly === true && means === undefined)
    return [[`${name} does not say what its figure means`, 'say means = "per-axis", "drms" or "95"']];
  if (isMappedOnly !== true && means !== undefined)
    return [[`${name} is one axis or none`, 'means goes with sigma_horizontal_m']];
  return [];
}
