import { describe, expect, it } from 'vitest';
import { defaultSession, readSession } from '../../../src/io/settings/session-read.js';
import { SESSION_SCHEMA } from '../../../src/io/settings/session-schema.js';
import { tomlLine, tomlLines } from '../../../src/io/settings/toml/toml-lines.js';
import type { Problem } from '../../../src/records/problem.js';
import type { Session } from '../../../src/records/session.js';
import { value } from '../support.js';
import { tomlSchemaText } from '../../support/toml-schema-text.js';

const read = (text: string): Session => value(readSession(`version = 1\n${text}`, 's.toml'));
const problems = (text: string): readonly Problem[] => readSession(`version = 1\n${text}`, 's.toml').problems;
const base = (more: string): string =>
  `[[base]]\nid = "B1"\nbroadcast = { latitude_deg = 1, longitude_deg = 2, ellipsoidal_height_m = 3, at = "arp" }\n${more}\n`;

describe('readSession', () => {
  it('asks for the offset of a base whose coordinate is of the phase centre, and takes 0 as the way to say that there is none', () => {
    const apc = (more: string): string =>
      `[[base]]\nid = "B1"\nbroadcast = { latitude_deg = 1, longitude_deg = 2, ellipsoidal_height_m = 3, at = "apc" }\n${more}\n`;
    expect(problems(apc(''))).toMatchObject([
      { code: 'config-missing', where: { path: 'base[0].phase_centre_offset_m' } },
    ]);
    expect(
      problems(base('known = { latitude_deg = 1, longitude_deg = 2, ellipsoidal_height_m = 3, at = "apc" }')),
    ).toMatchObject([{ code: 'config-missing' }]);
    expect(read(apc('phase_centre_offset_m = 0')).bases[0]?.phaseCentreOffsetM).toBe(0);
    expect(read(apc('phase_centre_offset_m = 0.09')).bases[0]?.phaseCentreOffsetM).toBe(0.09);
  });

  it('reads every setting of a whole session', () => {
    const session = read(`title = "Invented"
[system]
grid = "EPSG:2049"
fixes = "EPSG:4148"
epoch_year = 2026.30
[height]
geoid = "egm96"
interpolation = "bicubic"
sigma_m = 0.05
[rover]
reference_point = "apc"
pole_length_m = 2
tilt_azimuth = "top-from-tip"
[[base]]
id = "B1"
from_utc = "2026-03-04T06:00:00Z"
to_utc = 2026-03-04T18:00:00+02:00
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1043.2, at = "arp" }
known = { westing_m = -38000.0, southing_m = 3487000.0, orthometric_height_m = 1041.9, at = "mark" }
antenna_height_m = 1.6
antenna_height_kind = "slant"
antenna_radius_m = 0.1
antenna_offset_m = 0.02
sigma_horizontal_m = 0.01
[acceptance]
solution = ["fixed", "float"]
max_pdop = 4
[precision]
horizontal = { constant_mm = 8, ppm = 1 }
combine = "linear"
[tolerance]
horizontal_m = 0.05
[columns]
point_id = "Station"
`);
    expect(session.system).toEqual({ grid: 'EPSG:2049', fixes: 'EPSG:4148', epochYear: 2026.3, shift: null });
    expect(session.bases[0]).toEqual({
      id: 'B1',
      fromMs: Date.UTC(2026, 2, 4, 6),
      toMs: Date.UTC(2026, 2, 4, 16),
      broadcast: { kind: 'geodetic', at: 'arp', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1043.2 },
      known: {
        kind: 'grid',
        at: 'mark',
        values: { westing_m: -38000, southing_m: 3487000 },
        height: { kind: 'orthometric', orthometricHeightM: 1041.9 },
      },
      antennaHeight: { kind: 'slant', slantM: 1.6, radiusM: 0.1, offsetM: 0.02 },
      phaseCentreOffsetM: 0,
      sigmaHorizontalM: 0.01,
      sigmaVerticalM: null,
      antennaHeightSigmaM: null,
      centringSigmaM: null,
    });
    expect(session.precision).toMatchObject({
      horizontal: { constantM: 0.008, ppm: 1 },
      vertical: null,
      combine: 'linear',
    });
    expect(session.acceptance).toMatchObject({ solution: ['fixed', 'float'], maxPdop: 4, minSatellites: null });
    expect(session.columns).toEqual({ point_id: 'Station' });
    expect(session.given).toContain('base[0].known.westing_m');
    expect(session.given).not.toContain('rover.plumb_sigma_deg');
  });

  it('fills in the defaults of the interface, and says that they were not given', () => {
    const session = read('');
    expect(session).toMatchObject({
      system: null,
      height: { geoid: null, interpolation: 'bilinear', sigmaM: null },
      rover: {
        referencePoint: null,
        phaseCentreOffsetM: null,
        poleLengthM: null,
        poleSigmaM: 0.001,
        plumbSigmaDeg: 0.1,
        tiltSigmaDeg: 0.3,
        tiltAzimuthSigmaDeg: 1,
        tiltAzimuth: null,
      },
      acceptance: { solution: ['fixed'], maxBaselineM: null, occupationGapS: 60 },
      precision: { conditions: 'normal', combine: 'rss', correlationHorizontalS: null },
      tolerance: { horizontalM: null, verticalM: null },
    });
    expect(session.given).toEqual(['version']);
    expect({ ...session, given: [] }).toEqual(defaultSession());
  });

  it('suggests the name of an unknown key and gives its line', () => {
    expect(problems('[rover]\n# note\npole_lenght_m = 2\n')).toMatchObject([
      {
        code: 'config-unknown-key',
        hint: 'did you mean pole_length_m?',
        where: { source: 's.toml', line: 4, path: 'rover.pole_lenght_m' },
      },
    ]);
    expect(problems(`${base('')}${base('').replace('B1', 'B2').replace('at =', 'att =')}`)).toMatchObject([
      { code: 'config-unknown-key', where: { line: 8, path: 'base[1].broadcast.att' } },
      { code: 'config-missing', where: { line: 8, path: 'base[1].broadcast' } },
    ]);
  });

  it.each([
    ['[rover]\npole_length_m = "2"', 'rover.pole_length_m', 'a number from 0 to 1000'],
    ['[rover]\nplumb_sigma_deg = -1', 'rover.plumb_sigma_deg', 'from 0 to 90'],
    ['[height]\ninterpolation = "cubic"', 'height.interpolation', 'one of "bilinear", "biquadratic", "bicubic"'],
    ['[acceptance]\nmin_satellites = 5.5', 'acceptance.min_satellites', 'a whole number from 0 to 1000000000'],
    ['[acceptance]\nsolution = []', 'acceptance.solution', 'a list of'],
    ['[acceptance]\nmax_pdop = nan', 'acceptance.max_pdop', 'a number'],
    ['rover = 3', 'rover', 'a table'],
    ['[columns]\npoint_id = true', 'columns', 'names with texts'],
  ])('says what was expected for %j', (text, path, expected) => {
    const [problem] = problems(text);
    expect(problem).toMatchObject({ code: 'config-invalid-value', where: { path } });
    expect(problem?.message).toContain(expected);
  });

  it('refuses local times, another version, and broken TOML with its line', () => {
    expect(problems(base('from_utc = 2026-03-04T06:00:00'))).toMatchObject([
      { code: 'config-invalid-value', where: { path: 'base[0].from_utc', line: 5 } },
    ]);
    expect(readSession('version = 2', 's.toml').problems).toMatchObject([{ code: 'config-version' }]);
    expect(readSession('', 's.toml').problems).toMatchObject([{ code: 'config-missing' }]);
    expect(problems('title = "a\n')).toMatchObject([{ code: 'config-syntax', where: { line: 2 } }]);
    expect(problems('title = "a"\ntitle = "b"\n')).toMatchObject([{ code: 'config-syntax' }]);
  });

  it.each([
    ['known = { latitude_deg = 1, longitude_deg = 2, at = "mark" }', 'config-missing'],
    ['known = { latitude_deg = 1, ellipsoidal_height_m = 2, at = "mark" }', 'config-missing'],
    ['known = { easting_m = 1, ellipsoidal_height_m = 2, at = "mark" }', 'config-missing'],
    ['known = { x_m = 1, y_m = 2, at = "mark" }', 'config-missing'],
    // A solution says nowhere in which frame it is; taken for the national one it would be decimetres off.
    ['known = { sinex = "a.snx", code = "ABCD" }', 'config-invalid-value'],
    ['known = { sinex = "a.snx", code = "ABCD", frame = "fixes" }', 'config-invalid-value'],
    ['known = { at = "mark" }', 'config-missing'],
    ['known = { x_m = 1, y_m = 2, z_m = 3, latitude_deg = 1, at = "mark" }', 'config-invalid-value'],
    ['known = { x_m = 1, y_m = 2, z_m = 3, ellipsoidal_height_m = 1, at = "mark" }', 'config-invalid-value'],
    [
      'known = { latitude_deg = 1, longitude_deg = 2, ellipsoidal_height_m = 3, orthometric_height_m = 3, at = "mark" }',
      'config-invalid-value',
    ],
    ['antenna_height_m = 1.5\nantenna_height_kind = "slant"', 'config-missing'],
    [
      'antenna_height_m = 0.1\nantenna_height_kind = "slant"\nantenna_radius_m = 0.2\nantenna_offset_m = 0',
      'config-invalid-value',
    ],
    ['antenna_height_m = 1.5\nantenna_radius_m = 0.1', 'config-invalid-value'],
    ['from_utc = "2026-03-04T08:00:00Z"\nto_utc = "2026-03-04T06:00:00Z"', 'config-invalid-value'],
  ])('refuses a base with %j as %s', (more, code) => {
    expect(problems(base(more))).toMatchObject([{ code }]);
  });

  it('refuses two set-ups of one base at one time, and takes them one after the other', () => {
    expect(problems(base('') + base(''))).toMatchObject([
      { code: 'config-invalid-value', where: { path: 'base[1].id' } },
    ]);
    expect(
      read(base('to_utc = "2026-03-04T08:00:00Z"') + base('from_utc = "2026-03-04T08:00:00Z"')).bases,
    ).toHaveLength(2);
  });
});

describe('tomlLine', () => {
  it('finds keys under tables, lists of tables and dotted names', () => {
    const lines = tomlLines('a.b = 1\n[t]\nx = 1\n[[l]]\nx = 1\n[[l]]\n"x" = 2\n[l.in]\ny = 3\n');
    expect(
      ['a.b', 't.x', 'l[0].x', 'l[1].x', 'l[1].in.y', 'l[1].in.y.deeper', 'none'].map((path) => tomlLine(lines, path)),
    ).toEqual([1, 3, 5, 7, 9, 9, null]);
  });
});

describe('tomlSchemaText', () => {
  it('has one row for every setting', () => {
    const text = tomlSchemaText(SESSION_SCHEMA);
    expect(text).toContain('| `rover.pole_sigma_m` | a number from 0 to 1000 | 0.001 |');
    expect(text).toContain('| `base[].broadcast.at` | one of "apc", "arp", "mark" | needed |');
  });
});
