import { TABLE_FIELDS } from '../../records/settings/table-fields.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { BaseSettings, ConstantPlusProportion, Session } from '../../records/session.js';
import {
  ACCEPTANCE_FIELDS,
  FIELDWORK_FIELDS,
  HEIGHT_FIELDS,
  PRECISION_FIELDS,
  PROPORTION_FIELDS,
  ROVER_FIELDS,
  SYSTEM_FIELDS,
  TOLERANCE_FIELDS,
} from '../../records/settings/session-fields.js';
import { nearestWord } from '../../core/numeric/text/nearest-word.js';
import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import { baseSettings, overlappingBases } from './session-base.js';
import { columnsIn, sharedHeaders } from './session-columns.js';
import { SESSION_SCHEMA } from './session-schema.js';
import { settingsIn } from './settings-in.js';
import { overlaid } from './toml/toml-overlay.js';
import { readToml } from './toml/toml-table.js';
import type { TomlTable } from './toml/toml-table.js';

/** What one file, or one table of a job file, says of a session. */
export interface SessionPart {
  readonly table: TomlTable;
  /** Dotted keys that it gives. */
  readonly given: readonly string[];
}

const NOTHING: TomlTable = {
  path: '',
  keys: [],
  number: () => null,
  text: () => null,
  words: () => null,
  time: () => null,
  date: () => null,
  list: () => null,
  texts: () => ({}),
  readings: () => ({}),
  table: () => null,
  tables: () => [],
  problem: (code, key, message) => errorProblem(code, { message, where: { path: key } }),
};

/**
 * A session from the text of a session file, with every default filled in.
 * Given: the text; the file's name for problems. Paths inside stay as typed, relative to the session file.
 * Problems: those of `readSessionPart` and `sessionOfParts`.
 */
export function readSession(text: string, source: string): Outcome<Session> {
  const part = readSessionPart(text, source);
  return part.ok ? sessionOfParts([part.value]) : part;
}

/**
 * What a session file says, checked setting by setting. Problems: config-version; those of `readToml`.
 */
export function readSessionPart(text: string, source: string): Outcome<SessionPart> {
  const read = readToml(text, source, SESSION_SCHEMA);
  if (!read.ok) return read;
  const { table } = read.value;
  const version = table.number('version');
  return version === 1
    ? read
    : failure(
        table.problem(
          'config-version',
          'version',
          `version ${String(version)} is not one this program reads`,
          'write version = 1',
        ),
      );
}

/**
 * The session that several parts make together, the one that counts most first; every default is filled in.
 * Problems: config-missing and config-invalid-value for a base coordinate or antenna height that is not whole, for set-ups of
 * one base that overlap in time, and for a header that two columns share.
 */
export function sessionOfParts(parts: readonly [SessionPart, ...SessionPart[]]): Outcome<Session> {
  const [first, ...others] = parts;
  const table = overlaid([first.table, ...others.map((part) => part.table)]);
  const problems: Problem[] = [];
  const tables = table.tables('base');
  const bases = tables.map((base) => baseSettings(base, problems));
  const whole = bases.filter((base): base is BaseSettings => base !== null);
  if (whole.length === bases.length) pushAll(problems, overlappingBases(tables, whole));
  pushAll(problems, sharedHeaders(table));
  pushAll(problems, unknownCodes(table));
  if (problems.length > 0) return failureOf(problems);
  return success(sessionOf(table, whole, [...new Set(parts.flatMap((part) => part.given))]));
}

/** The session of a run without a session file: every default, no system, no base. */
export function defaultSession(): Session {
  return sessionOf(NOTHING, [], []);
}

function sessionOf(table: TomlTable, bases: readonly BaseSettings[], given: readonly string[]): Session {
  const system = table.table('system');
  const part = (name: string): TomlTable => table.table(name) ?? NOTHING;
  const precision = part('precision');
  return {
    title: table.text('title'),
    system: system === null ? null : settingsIn(system, SYSTEM_FIELDS),
    height: settingsIn(part('height'), HEIGHT_FIELDS),
    rover: settingsIn(part('rover'), ROVER_FIELDS),
    fieldwork: settingsIn(part('fieldwork'), FIELDWORK_FIELDS),
    bases,
    acceptance: settingsIn(part('acceptance'), ACCEPTANCE_FIELDS),
    precision: {
      ...settingsIn(precision, PRECISION_FIELDS),
      horizontal: proportion(precision.table('horizontal')),
      vertical: proportion(precision.table('vertical')),
    },
    tolerance: settingsIn(part('tolerance'), TOLERANCE_FIELDS),
    table: settingsIn(part('table'), TABLE_FIELDS),
    columns: columnsIn(table),
    acknowledge: table.texts('acknowledge'),
    given,
  };
}

/** config-invalid-value for what `[acknowledge]` names that is no code of ours, or gives no reason for. */
function unknownCodes(table: TomlTable): readonly Problem[] {
  return Object.entries(table.texts('acknowledge')).flatMap(([code, reason]) => {
    const isKnown = Object.hasOwn(PROBLEM_CODES, code);
    if (isKnown && reason.trim() !== '') return [];
    const near = nearestWord(code, Object.keys(PROBLEM_CODES));
    return [
      table.problem(
        'config-invalid-value',
        `acknowledge.${code}`,
        isKnown ? 'gives no reason' : `${code} is no problem code`,
        isKnown
          ? 'say why the warning is known'
          : near === null
            ? 'see pegbook help problem-codes'
            : `did you mean ${near}?`,
      ),
    ];
  });
}

function proportion(table: TomlTable | null): ConstantPlusProportion | null {
  if (table === null) return null;
  const { constantMm, ppm } = settingsIn(table, PROPORTION_FIELDS);
  return { constantM: constantMm / 1000, ppm };
}
