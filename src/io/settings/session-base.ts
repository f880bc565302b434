import type { Problem } from '../../records/problem.js';
import type { BaseCoordinate, BasePlace, BaseSettings } from '../../records/session.js';
import { BASE_SIGMA_FIELDS } from '../../records/settings/session-fields.js';
import { settingsIn } from './settings-in.js';
import type { TomlTable } from './toml-table.js';
import { entryAt } from '../../records/present.js';

/** Reads one `[[base]]`; null when it reported a problem. */
export function baseSettings(table: TomlTable, problems: Problem[]): BaseSettings | null {
  const before = problems.length;
  const fromMs = table.time('from_utc');
  const toMs = table.time('to_utc');
  if (fromMs !== null && toMs !== null && fromMs >= toMs) {
    problems.push(table.problem('config-invalid-value', 'to_utc', 'the set-up ends before it begins'));
  }
  const broadcastTable = table.table('broadcast');
  const knownTable = table.table('known');
  const broadcast = broadcastTable === null ? null : baseCoordinate(broadcastTable, problems);
  const knownFrom = knownTable === null ? null : baseReference(knownTable, table, problems);
  const known = knownTable === null || knownFrom !== null ? null : typedKnown(knownTable, problems);
  const antennaHeight = baseAntennaHeight(table, problems);
  const phaseCentreOffsetM = table.number('phase_centre_offset_m');
  if (phaseCentreOffsetM === null && [broadcast, known].some((coordinate) => coordinate?.at === 'apc')) {
    problems.push(
      table.problem(
        'config-missing',
        'phase_centre_offset_m',
        'a coordinate of the base is of the antenna phase centre (apc) and its offset from the reference point is not stated; it goes into heights whole, some 50 to 100 mm',
        "set phase_centre_offset_m of the base to what the antenna's calibration says; 0 says that the coordinate is of the reference point already",
      ),
    );
  }
  if (broadcast === null || problems.length > before) return null;
  return {
    id: table.text('id') ?? '',
    fromMs,
    toMs,
    broadcast,
    known,
    antennaHeight,
    // Stated wherever a coordinate is at the phase centre, which alone uses it.
    phaseCentreOffsetM: phaseCentreOffsetM ?? 0,
    ...settingsIn(table, BASE_SIGMA_FIELDS),
    ...(knownFrom !== null && { knownFrom }),
  };
}

type BaseReference = NonNullable<BaseSettings['knownFrom']>;

/** A coordinate by reference; null where none is asked for, or it is not whole. */
function baseReference(table: TomlTable, base: TomlTable, problems: Problem[]): BaseReference | null {
  const [point, day] = [table.text('point'), table.text('day')];
  if (point === null && day === null) return null;
  const others = table.keys.filter((key) => key !== 'point' && key !== 'day' && key !== 'at');
  const sigma = ['sigma_horizontal_m', 'sigma_vertical_m'].find((key) => base.number(key) !== null);
  if (point === null || day === null)
    problems.push(
      table.problem(
        'config-missing',
        '',
        'a coordinate by reference needs point and day',
        'known = { point = "BASE2", day = "2026-05-11" }, a day before this one',
      ),
    );
  else if (others.length > 0)
    problems.push(
      table.problem(
        'config-invalid-value',
        entryAt(others, 0),
        'a coordinate is typed beside the point that gives it',
        'keep one of the two',
      ),
    );
  else if (table.text('at') !== null && table.text('at') !== 'mark')
    problems.push(table.problem('config-invalid-value', 'at', 'a point is of the ground mark', 'leave at out'));
  else if (sigma !== undefined)
    problems.push(
      base.problem(
        'config-invalid-value',
        sigma,
        `${sigma} is given, and the point brings its own uncertainty`,
        'leave it out',
      ),
    );
  else return { point, day };
  return { point: '', day: '' };
}

function typedKnown(table: TomlTable, problems: Problem[]): BaseCoordinate | null {
  if (table.text('at') !== null) return baseCoordinate(table, problems);
  problems.push(
    table.problem(
      'config-missing',
      '',
      `${table.path} needs at`,
      'add at: where on the set-up the coordinate belongs: apc, arp or mark',
    ),
  );
  return null;
}

const CHOICES =
  'give latitude_deg and longitude_deg with a height, or x_m, y_m and z_m, or the two grid axes with a height';

function baseCoordinate(table: TomlTable, problems: Problem[]): BaseCoordinate | null {
  const coordinate = placedCoordinate(table, problems);
  const frame = table.text('frame') as 'fixes' | 'national' | null;
  if (coordinate === null || frame === null) return coordinate;
  if (coordinate.kind === 'grid' && frame === 'fixes') {
    problems.push(
      table.problem(
        'config-invalid-value',
        'frame',
        'grid values belong to the frame of the grid',
        'leave frame out, or give the coordinate as latitude and longitude or as x_m, y_m, z_m',
      ),
    );
    return null;
  }
  return { ...coordinate, frame };
}

function placedCoordinate(table: TomlTable, problems: Problem[]): BaseCoordinate | null {
  const at = (table.text('at') ?? 'mark') as BasePlace;
  const latitudeDeg = table.number('latitude_deg');
  const longitudeDeg = table.number('longitude_deg');
  const xM = table.number('x_m');
  const yM = table.number('y_m');
  const zM = table.number('z_m');
  const ellipsoidalHeightM = table.number('ellipsoidal_height_m');
  const orthometricHeightM = table.number('orthometric_height_m');
  const axes = table.keys.filter((key) => /^(?:easting|northing|westing|southing)_/.test(key));
  const isGeodetic = latitudeDeg !== null || longitudeDeg !== null;
  const isGeocentric = xM !== null || yM !== null || zM !== null;
  const isGrid = axes.length > 0;

  const fail = (code: 'config-missing' | 'config-invalid-value', message: string, hint: string): null => {
    problems.push(table.problem(code, '', message, hint));
    return null;
  };
  if (Number(isGeodetic) + Number(isGeocentric) + Number(isGrid) > 1) {
    return fail('config-invalid-value', 'the coordinate is given in more than one way', CHOICES);
  }
  if (isGeocentric) {
    if (xM === null || yM === null || zM === null)
      return fail('config-missing', 'the geocentric coordinate is not whole', CHOICES);
    if (ellipsoidalHeightM !== null || orthometricHeightM !== null) {
      return fail('config-invalid-value', 'a geocentric coordinate has no height beside it', 'leave the height out');
    }
    return { kind: 'geocentric', at, xM, yM, zM };
  }
  if (ellipsoidalHeightM !== null && orthometricHeightM !== null) {
    return fail('config-invalid-value', 'two heights are given', 'keep ellipsoidal_height_m or orthometric_height_m');
  }
  const height = ellipsoidalHeightM ?? orthometricHeightM;
  if (isGeodetic && latitudeDeg !== null && longitudeDeg !== null && height !== null) {
    const longitude = longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg;
    return ellipsoidalHeightM !== null
      ? { kind: 'geodetic', at, latitudeDeg, longitudeDeg: longitude, ellipsoidalHeightM }
      : { kind: 'geodetic-orthometric', at, latitudeDeg, longitudeDeg: longitude, orthometricHeightM: height };
  }
  if (isGrid && axes.length === 2 && height !== null) {
    const values = Object.fromEntries(axes.map((axis) => [axis, table.number(axis) ?? 0]));
    return {
      kind: 'grid',
      at,
      values,
      height:
        ellipsoidalHeightM !== null
          ? { kind: 'ellipsoidal', ellipsoidalHeightM }
          : { kind: 'orthometric', orthometricHeightM: height },
    };
  }
  const message =
    (isGeodetic || isGrid) && height === null ? 'the coordinate has no height' : 'the coordinate is not whole';
  return fail('config-missing', message, CHOICES);
}

function baseAntennaHeight(table: TomlTable, problems: Problem[]): BaseSettings['antennaHeight'] {
  const heightM = table.number('antenna_height_m');
  const kind = table.text('antenna_height_kind') ?? 'vertical';
  const radiusM = table.number('antenna_radius_m');
  const offsetM = table.number('antenna_offset_m');
  if (kind === 'vertical') {
    if (radiusM !== null || offsetM !== null) {
      const key = radiusM !== null ? 'antenna_radius_m' : 'antenna_offset_m';
      problems.push(
        table.problem(
          'config-invalid-value',
          key,
          `${key} belongs to a slant height`,
          'give antenna_height_kind = "slant", or leave it out',
        ),
      );
    }
    return heightM === null ? null : { kind: 'vertical', heightM };
  }
  if (heightM === null || radiusM === null || offsetM === null) {
    const missing = [
      heightM === null ? 'antenna_height_m' : '',
      radiusM === null ? 'antenna_radius_m' : '',
      offsetM === null ? 'antenna_offset_m' : '',
    ].filter((key) => key !== '');
    problems.push(
      table.problem('config-missing', 'antenna_height_kind', `a slant height needs ${missing.join(' and ')}`),
    );
    return null;
  }
  if (radiusM >= heightM) {
    const message = `the slant height ${String(heightM)} m is not longer than the radius ${String(radiusM)} m`;
    problems.push(table.problem('config-invalid-value', 'antenna_height_m', message));
    return null;
  }
  return { kind: 'slant', slantM: heightM, radiusM, offsetM };
}

/** config-invalid-value for set-ups of one id whose times overlap: a row could belong to either. */
export function overlappingBases(tables: readonly TomlTable[], bases: readonly BaseSettings[]): readonly Problem[] {
  const problems: Problem[] = [];
  bases.forEach((base, index) => {
    const other = bases.slice(0, index).findIndex((earlier) => earlier.id === base.id && overlap(earlier, base));
    const table = tables[index];
    if (other < 0 || table === undefined) return;
    const message = `base ${base.id} is described twice for the same time (base[${String(other)}] and base[${String(index)}])`;
    problems.push(table.problem('config-invalid-value', 'id', message, 'give from_utc and to_utc that do not overlap'));
  });
  return problems;
}

function overlap(a: BaseSettings, b: BaseSettings): boolean {
  return (a.fromMs ?? -Infinity) < (b.toMs ?? Infinity) && (b.fromMs ?? -Infinity) < (a.toMs ?? Infinity);
}
