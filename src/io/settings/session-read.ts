import { pushAll } from '../../core/numeric/push-all.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { ReferencePoint } from '../../records/points/point.js';
import type {
  BaseSettings,
  Conditions,
  ConstantPlusProportion,
  GeoidInterpolation,
  Session,
  Solution,
  TiltAzimuthConvention,
} from '../../records/session.js';
import { baseSettings, overlappingBases } from './session-base.js';
import { SESSION_SCHEMA } from './session-schema.js';
import { readToml } from './toml-table.js';
import type { TomlTable } from './toml-table.js';

/** Growth of the error with the age of the corrections, millimetres a second: an assumption, docs/methods/uncertainty.md. */
const AGE_RATE_MM_PER_S = 1;

const NOTHING: TomlTable = {
  path: '',
  keys: [],
  number: () => null,
  text: () => null,
  words: () => null,
  time: () => null,
  texts: () => ({}),
  table: () => null,
  tables: () => [],
  problem: (code, key, message) => errorProblem(code, { message, where: { path: key } }),
};

/**
 * A session from the text of a session file, with every default filled in.
 * Given: the text; the file's name for problems. Paths inside stay as typed, relative to the session file.
 * Problems: config-version; those of `readToml`; config-missing and config-invalid-value for a base coordinate or
 * antenna height that is not whole, for set-ups of one base that overlap in time, and for a header that two columns share.
 */
export function readSession(text: string, source: string): Outcome<Session> {
  const read = readToml(text, source, SESSION_SCHEMA);
  if (!read.ok) return read;
  const { table, given } = read.value;
  const version = table.number('version');
  if (version !== 1) {
    return failure(
      table.problem(
        'config-version',
        'version',
        `version ${String(version)} is not one this program reads`,
        'write version = 1',
      ),
    );
  }
  const problems: Problem[] = [];
  const tables = table.tables('base');
  const bases = tables.map((base) => baseSettings(base, problems));
  const whole = bases.filter((base): base is BaseSettings => base !== null);
  if (whole.length === bases.length) pushAll(problems, overlappingBases(tables, whole));
  pushAll(problems, sharedHeaders(table));
  if (problems.length > 0) return failureOf(problems);
  return success(sessionOf(table, whole, given));
}

/** The session of a run without a session file: every default, no system, no base. */
export function defaultSession(): Session {
  return sessionOf(NOTHING, [], []);
}

function sessionOf(table: TomlTable, bases: readonly BaseSettings[], given: readonly string[]): Session {
  const system = table.table('system');
  const height = table.table('height') ?? NOTHING;
  const rover = table.table('rover') ?? NOTHING;
  const acceptance = table.table('acceptance') ?? NOTHING;
  const precision = table.table('precision') ?? NOTHING;
  const tolerance = table.table('tolerance') ?? NOTHING;
  return {
    title: table.text('title'),
    system:
      system === null
        ? null
        : {
            grid: system.text('grid') ?? '',
            fixes: system.text('fixes'),
            epochYear: system.number('epoch_year'),
            shift: system.text('shift'),
          },
    height: {
      geoid: height.text('geoid'),
      interpolation: (height.text('interpolation') ?? 'bilinear') as GeoidInterpolation,
      geoidFrame: height.text('geoid_frame'),
      sigmaM: height.number('sigma_m'),
    },
    rover: {
      referencePoint: rover.text('reference_point') as ReferencePoint | null,
      phaseCentreOffsetM: rover.number('phase_centre_offset_m'),
      poleLengthM: rover.number('pole_length_m'),
      poleSigmaM: rover.number('pole_sigma_m') ?? 0.001,
      plumbSigmaDeg: rover.number('plumb_sigma_deg') ?? 0.1,
      tiltSigmaDeg: rover.number('tilt_sigma_deg') ?? 0.3,
      tiltAzimuthSigmaDeg: rover.number('tilt_azimuth_sigma_deg') ?? 1,
      tiltAzimuth: rover.text('tilt_azimuth') as TiltAzimuthConvention | null,
    },
    bases,
    acceptance: {
      solutions: (acceptance.words('solution') ?? ['fixed']) as readonly Solution[],
      maxPdop: acceptance.number('max_pdop'),
      maxCorrectionAgeS: acceptance.number('max_correction_age_s'),
      minSatellites: acceptance.number('min_satellites'),
      maxTiltDeg: acceptance.number('max_tilt_deg'),
      maxBaselineM: acceptance.number('max_baseline_m'),
      minEpochs: acceptance.number('min_epochs'),
      minDurationS: acceptance.number('min_duration_s'),
      maxSigmaHorizontalM: acceptance.number('max_sigma_horizontal_m'),
      maxSigmaVerticalM: acceptance.number('max_sigma_vertical_m'),
      occupationGapS: acceptance.number('occupation_gap_s') ?? 60,
    },
    precision: {
      conditions: (precision.text('conditions') ?? 'normal') as Conditions,
      horizontal: proportion(precision.table('horizontal')),
      vertical: proportion(precision.table('vertical')),
      combine: (precision.text('combine') ?? 'rss') as 'rss' | 'linear',
      correlationHorizontalS: precision.number('correlation_horizontal_s'),
      correlationVerticalS: precision.number('correlation_vertical_s'),
      ageMmPerS: precision.number('age_mm_per_s') ?? AGE_RATE_MM_PER_S,
    },
    tolerance: { horizontalM: tolerance.number('horizontal_m'), verticalM: tolerance.number('vertical_m') },
    columns: table.texts('columns'),
    given,
  };
}

/** config-invalid-value for each header of `[columns]` that is given to two of our names: one column holds one quantity. */
function sharedHeaders(table: TomlTable): readonly Problem[] {
  const owners = new Map<string, string>();
  return Object.entries(table.texts('columns')).flatMap(([name, header]) => {
    const key = header.trim().toLowerCase();
    const owner = owners.get(key);
    if (owner !== undefined)
      return [
        table.problem(
          'config-invalid-value',
          `columns.${name}`,
          `${owner} and ${name} are both "${header}"`,
          'one column holds one quantity: name each its own',
        ),
      ];
    owners.set(key, name);
    return [];
  });
}

function proportion(table: TomlTable | null): ConstantPlusProportion | null {
  if (table === null) return null;
  return { constantM: (table.number('constant_mm') ?? 0) / 1000, ppm: table.number('ppm') ?? 0 };
}
