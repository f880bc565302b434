import type { Problem } from '../../records/problem.js';
import type { BaseCoordinate, BaseSettings } from '../../records/session.js';
import { entryAt, present } from '../../records/present.js';
import {
  BASE_ANTENNA_FIELDS,
  BASE_COORDINATE_FIELDS,
  BASE_FIELDS,
  BASE_REFERENCE_FIELDS,
  BASE_SIGMA_FIELDS,
} from '../../records/settings/base-fields.js';
import type { SettingsOf } from '../../records/settings/settings-of.js';
import { BASE_COORDINATE_AXES } from './session-schema.js';
import { settingsIn } from './settings-in.js';
import { isNamedFrame, knownElsewhere } from './session-base-frame.js';
import type { TomlTable } from './toml/toml-table.js';

type CoordinateSettings = SettingsOf<typeof BASE_COORDINATE_FIELDS>;
type AntennaSettings = SettingsOf<typeof BASE_ANTENNA_FIELDS>;

/** Reads one `[[base]]`; null when it reported a problem. */
export function baseSettings(table: TomlTable, problems: Problem[]): BaseSettings | null {
  const before = problems.length;
  const { id, fromUtc: fromMs, toUtc: toMs, instrument } = settingsIn(table, BASE_FIELDS);
  if (fromMs !== null && toMs !== null && fromMs >= toMs) {
    problems.push(table.problem('config-invalid-value', 'to_utc', 'the set-up ends before it begins'));
  }
  const broadcastTable = table.table('broadcast');
  const knownTable = table.table('known');
  const broadcast = broadcastTable === null ? null : baseCoordinate(broadcastTable, problems);
  const said = problems.length;
  const knownFrom = knownTable === null ? null : baseReference(knownTable, table, problems);
  const elsewhere = knownTable === null || knownFrom !== null ? null : knownElsewhere(knownTable, table, problems);
  // What names a day or a file has no coordinate typed, nor is one asked for where that was refused.
  const isNamed = knownFrom !== null || elsewhere?.knownSinex !== undefined || problems.length > said;
  const known = knownTable === null || isNamed ? null : typedKnown(knownTable, problems);
  const antenna = settingsIn(table, BASE_ANTENNA_FIELDS);
  const antennaHeight = baseAntennaHeight(table, antenna, problems);
  const { phaseCentreOffsetM } = antenna;
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
    id,
    fromMs,
    toMs,
    broadcast,
    known,
    antennaHeight,
    // Stated wherever a coordinate is at the phase centre, which alone uses it.
    phaseCentreOffsetM: phaseCentreOffsetM ?? 0,
    ...settingsIn(table, BASE_SIGMA_FIELDS),
    ...(instrument !== null && { instrument }),
    ...(knownFrom !== null && { knownFrom }),
    ...elsewhere,
  };
}

type BaseReference = NonNullable<BaseSettings['knownFrom']>;

/** A coordinate by reference; null where none is asked for, or it is not whole. */
function baseReference(table: TomlTable, base: TomlTable, problems: Problem[]): BaseReference | null {
  const { point, day } = settingsIn(table, BASE_REFERENCE_FIELDS);
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

/** A coordinate, or why there is none. */
type Placed =
  | { readonly coordinate: BaseCoordinate }
  | {
      readonly code: 'config-missing' | 'config-invalid-value';
      readonly message: string;
      readonly hint: string;
      readonly key?: string;
    };

function baseCoordinate(table: TomlTable, problems: Problem[]): BaseCoordinate | null {
  const settings = settingsIn(table, BASE_COORDINATE_FIELDS);
  // The frame of a known coordinate may also be an ITRF, which `knownElsewhere` reads.
  const frame = isNamedFrame(settings.frame) ? settings.frame : null;
  const placed = inFrame(placedCoordinate(settings, axesOf(table)), frame);
  if ('coordinate' in placed) return placed.coordinate;
  // What is wrong with no one key is wrong with the base.
  problems.push(table.problem(placed.code, placed.key ?? '', placed.message, placed.hint));
  return null;
}

/** Values of the axes of the grid, by their names. */
function axesOf(table: TomlTable): ReadonlyMap<string, number> {
  const names = table.keys.filter((key) => BASE_COORDINATE_AXES.match.test(key));
  return new Map(names.map((name) => [name, present(table.number(name), name)]));
}

function inFrame(placed: Placed, frame: CoordinateSettings['frame']): Placed {
  if (!('coordinate' in placed) || frame === null) return placed;
  if (placed.coordinate.kind === 'grid' && frame === 'fixes')
    return {
      code: 'config-invalid-value',
      key: 'frame',
      message: 'grid values belong to the frame of the grid',
      hint: 'leave frame out, or give the coordinate as latitude and longitude or as x_m, y_m, z_m',
    };
  return { coordinate: { ...placed.coordinate, frame } };
}

function placedCoordinate(settings: CoordinateSettings, axes: ReadonlyMap<string, number>): Placed {
  const { at, latitudeDeg, longitudeDeg, xM, yM, zM, ellipsoidalHeightM, orthometricHeightM } = settings;
  const isGeodetic = latitudeDeg !== null || longitudeDeg !== null;
  const isGeocentric = xM !== null || yM !== null || zM !== null;
  const isGrid = axes.size > 0;
  if (Number(isGeodetic) + Number(isGeocentric) + Number(isGrid) > 1)
    return { code: 'config-invalid-value', message: 'the coordinate is given in more than one way', hint: CHOICES };
  if (isGeocentric) return geocentricCoordinate(settings);
  if (ellipsoidalHeightM !== null && orthometricHeightM !== null)
    return {
      code: 'config-invalid-value',
      message: 'two heights are given',
      hint: 'keep ellipsoidal_height_m or orthometric_height_m',
    };
  const height: GridHeight | null =
    ellipsoidalHeightM !== null
      ? { kind: 'ellipsoidal', ellipsoidalHeightM }
      : orthometricHeightM !== null
        ? { kind: 'orthometric', orthometricHeightM }
        : null;
  if (height !== null && latitudeDeg !== null && longitudeDeg !== null) {
    const place = { at, latitudeDeg, longitudeDeg: longitudeDeg > 180 ? longitudeDeg - 360 : longitudeDeg };
    return {
      coordinate:
        height.kind === 'ellipsoidal'
          ? { ...place, kind: 'geodetic', ellipsoidalHeightM: height.ellipsoidalHeightM }
          : { ...place, kind: 'geodetic-orthometric', orthometricHeightM: height.orthometricHeightM },
    };
  }
  if (height !== null && axes.size === 2)
    return { coordinate: { kind: 'grid', at, values: Object.fromEntries(axes), height } };
  const message =
    (isGeodetic || isGrid) && height === null ? 'the coordinate has no height' : 'the coordinate is not whole';
  return { code: 'config-missing', message, hint: CHOICES };
}

type GridHeight = Extract<BaseCoordinate, { readonly kind: 'grid' }>['height'];

function geocentricCoordinate({ at, xM, yM, zM, ellipsoidalHeightM, orthometricHeightM }: CoordinateSettings): Placed {
  if (xM === null || yM === null || zM === null)
    return { code: 'config-missing', message: 'the geocentric coordinate is not whole', hint: CHOICES };
  if (ellipsoidalHeightM !== null || orthometricHeightM !== null)
    return {
      code: 'config-invalid-value',
      message: 'a geocentric coordinate has no height beside it',
      hint: 'leave the height out',
    };
  return { coordinate: { kind: 'geocentric', at, xM, yM, zM } };
}

function baseAntennaHeight(
  table: TomlTable,
  {
    antennaHeightM: heightM,
    antennaHeightKind: kind,
    antennaRadiusM: radiusM,
    antennaOffsetM: offsetM,
  }: AntennaSettings,
  problems: Problem[],
): BaseSettings['antennaHeight'] {
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
