import { parse, TomlDate, TomlError } from 'smol-toml';
import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { parseUtc } from '../../../core/numeric/text/parse-utc.js';
import { InternalError } from '../../../records/internal-error.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { tomlLine, tomlLines } from './toml-lines.js';
import { tomlExpectation, tomlField } from './toml-schema.js';
import type { TomlField, TomlSchema } from './toml-schema.js';
import { entryAt } from '../../../records/present.js';
import { UNANSWERED_TEXTS, unansweredPaths } from './toml-unanswered.js';

/** A table whose keys and values have been checked. Readers give null for a setting that is not there. */
export interface TomlTable {
  /** Dotted path; empty for the whole file. */
  readonly path: string;
  readonly number: (key: string) => number | null;
  readonly text: (key: string) => string | null;
  readonly words: (key: string) => readonly string[] | null;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly time: (key: string) => number | null;
  /** A day as `2026-03-04`. */
  readonly date: (key: string) => string | null;
  readonly list: (key: string) => readonly string[] | null;
  readonly texts: (key: string) => Readonly<Record<string, string>>;
  /** Of a setting whose names hold texts or tables. */
  readonly readings: (key: string) => Readonly<Record<string, string | TomlTable>>;
  readonly table: (key: string) => TomlTable | null;
  readonly tables: (key: string) => readonly TomlTable[];
  readonly keys: readonly string[];
  /** A problem with a setting of this table (or the table itself, for an empty key), with its line. */
  readonly problem: (code: ProblemCode, key: string, message: string, hint?: string) => Problem;
}

type Checked =
  number | string | readonly string[] | Readonly<Record<string, string | TomlTable>> | TomlTable | readonly TomlTable[];

function syntaxMessage({ message }: TomlError): string {
  return entryAt(message.split('\n'), 0)
    .replace(/^Invalid TOML document: /, '')
    .toLowerCase();
}

/**
 * Reads a TOML text by a schema. `given` lists the dotted keys found.
 * Problems: config-syntax; config-unanswered for each setting that still is "?", and then no others; config-unknown-key with the nearest name; config-invalid-value for a wrong type, word or
 * range; config-missing for a required key. All of them, not only the first, each with its line.
 */
export function readToml(
  text: string,
  source: string,
  schema: TomlSchema,
): Outcome<{ readonly table: TomlTable; readonly given: readonly string[] }> {
  const parsed = parseToml(text, source);
  if (!parsed.ok) return parsed;
  const document = parsed.value;
  const lines = tomlLines(text);
  const problems: Problem[] = [];
  const given: string[] = [];

  function located(code: ProblemCode, path: string, message: string, hint?: string): Problem {
    const line = tomlLine(lines, path);
    const where = { source, ...(line !== null && { line }), ...(path !== '' && { path }) };
    return errorProblem(code, { message, where, ...(hint !== undefined && { hint }) });
  }

  const open = unansweredPaths(document, '');
  if (open.length > 0) return failureOf(open.map((path) => located('config-unanswered', path, ...UNANSWERED_TEXTS)));

  function checkTable(value: Readonly<Record<string, unknown>>, fields: TomlSchema, path: string): TomlTable {
    const checked = new Map<string, Checked>();
    for (const [key, entry] of Object.entries(value)) {
      const keyPath = path === '' ? key : `${path}.${key}`;
      const field = tomlField(fields, key);
      if (field === null) {
        problems.push(
          located(
            'config-unknown-key',
            keyPath,
            `there is no setting ${key}${path === '' ? '' : ` in ${path}`}`,
            unknownKeyHint(key, fields),
          ),
        );
        continue;
      }
      const result = checkValue(entry, field, keyPath);
      if (result === null)
        problems.push(located('config-invalid-value', keyPath, `${shown(entry)} is not ${tomlExpectation(field)}`));
      else checked.set(key, result);
    }
    for (const [key, field] of Object.entries(fields.named)) {
      if (field.isRequired === true && !(key in value)) {
        problems.push(
          located(
            'config-missing',
            path,
            `${path === '' ? '' : `${path} needs `}${key}${path === '' ? ' is not given' : ''}`,
            `add ${key}: ${field.meaning}`,
          ),
        );
      }
    }
    return tableOf(checked, path, (code, key, message, hint) => located(code, joined(path, key), message, hint));
  }

  function checkValue(value: unknown, field: TomlField, path: string): Checked | null {
    switch (field.kind) {
      case 'table':
        return isTable(value) ? checkTable(value, field.fields, path) : null;
      case 'tables':
        if (!Array.isArray(value) || !value.every(isTable)) return null;
        return value.map((entry, index) => checkTable(entry, field.fields, `${path}[${String(index)}]`));
      case 'readings':
        return readingsIn(value, path, given, (entry, at) => checkTable(entry, field.fields, at));
      default: {
        const result = plainValue(value, field);
        given.push(path);
        return result;
      }
    }
  }

  const table = checkTable(document as Readonly<Record<string, unknown>>, schema, '');
  return problems.length > 0 ? failureOf(problems) : success({ table, given });
}

/** A TOML text as plain values. Problems: config-syntax. */
export function parseToml(text: string, source: string): Outcome<unknown> {
  try {
    return success(parse(text));
  } catch (error) {
    if (!(error instanceof TomlError)) throw error;
    const message = syntaxMessage(error);
    const where = { source, line: error.line, field: error.column };
    return failure(errorProblem('config-syntax', { message, where }));
  }
}

function plainValue(
  value: unknown,
  field: TomlField,
): number | string | readonly string[] | Readonly<Record<string, string>> | null {
  switch (field.kind) {
    case 'names': {
      const names = (Array.isArray(value) ? (value as readonly unknown[]) : [value]).map((name) =>
        typeof name === 'number' ? String(name) : name,
      );
      if (names.length < 1 || names.length > 2) return null;
      return names.every((name): name is string => typeof name === 'string' && name !== '') ? names : null;
    }
    case 'text':
      if (typeof value !== 'string' || value === '') return null;
      return field.choices === undefined || field.choices.includes(value) ? value : null;
    case 'words': {
      if (!Array.isArray(value) || value.length === 0) return null;
      const words = value.filter((word): word is string => typeof word === 'string' && field.choices.includes(word));
      return words.length === value.length ? words : null;
    }
    case 'number':
      if (typeof value !== 'number' || !Number.isFinite(value)) return null;
      if (field.isWhole === true && !Number.isInteger(value)) return null;
      return value >= (field.minimum ?? -Infinity) && value <= (field.maximum ?? Infinity) ? value : null;
    case 'time': {
      if (value instanceof TomlDate) return value.isDateTime() && !value.isLocal() ? value.getTime() : null;
      const instant = typeof value === 'string' ? parseUtc(value) : 'syntax';
      return typeof instant === 'number' ? instant : null;
    }
    case 'date':
      return dayText(value);
    case 'list':
      if (!Array.isArray(value) || value.length === 0) return null;
      return value.every((entry): entry is string => typeof entry === 'string' && entry !== '') ? value : null;
    case 'texts': {
      if (!isTable(value)) return null;
      const entries = Object.entries(value).map(([name, entry]) => [
        name,
        typeof entry === 'number' ? String(entry) : entry,
      ]);
      if (!entries.every(([, entry]) => typeof entry === 'string' && entry !== '')) return null;
      return Object.fromEntries(entries) as Record<string, string>;
    }
    default:
      throw new InternalError(`a ${field.kind} is not a plain value`);
  }
}

/** A day that the calendar has, as a date of TOML or a text; null: it is none. */
function dayText(value: unknown): string | null {
  const text = value instanceof TomlDate ? (value.isDate() ? value.toISOString() : null) : value;
  if (typeof text !== 'string' || !/^\d{4}-\d{2}-\d{2}$/u.test(text)) return null;
  return typeof parseUtc(`${text}T00:00:00Z`) === 'number' ? text : null;
}

function tableOf(checked: ReadonlyMap<string, Checked>, path: string, problem: TomlTable['problem']): TomlTable {
  function ofType(key: string, type: 'number' | 'string'): Checked | null {
    const value = checked.get(key);
    if (value === undefined) return null;
    if (typeof value !== type) throw new InternalError(`setting ${joined(path, key)} is not a ${type}`);
    return value;
  }
  return {
    path,
    problem,
    keys: [...checked.keys()],
    number: (key) => ofType(key, 'number') as number | null,
    text: (key) => ofType(key, 'string') as string | null,
    time: (key) => ofType(key, 'number') as number | null,
    date: (key) => ofType(key, 'string') as string | null,
    list: (key) => (checked.get(key) as readonly string[] | undefined) ?? null,
    words: (key) => (checked.get(key) as readonly string[] | undefined) ?? null,
    texts: (key) => (checked.get(key) as Readonly<Record<string, string>> | undefined) ?? {},
    readings: (key) => (checked.get(key) as Readonly<Record<string, string | TomlTable>> | undefined) ?? {},
    table: (key) => (checked.get(key) as TomlTable | undefined) ?? null,
    tables: (key) => (checked.get(key) as readonly TomlTable[] | undefined) ?? [],
  };
}

/** Names with texts or tables; null where one is neither. */
function readingsIn(
  value: unknown,
  path: string,
  given: string[],
  checkTable: (entry: Readonly<Record<string, unknown>>, path: string) => TomlTable,
): Readonly<Record<string, string | TomlTable>> | null {
  if (!isTable(value)) return null;
  const checked = Object.create(null) as Record<string, string | TomlTable>;
  for (const [name, entry] of Object.entries(value)) {
    const text = typeof entry === 'number' ? String(entry) : entry;
    given.push(`${path}.${name}`);
    if (isTable(text)) checked[name] = checkTable(text, `${path}.${name}`);
    else if (typeof text === 'string' && text !== '') checked[name] = text;
    else return null;
  }
  return checked;
}

function joined(path: string, key: string): string {
  if (path === '' || key === '') return path + key;
  return `${path}.${key}`;
}

function isTable(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && !(value instanceof Date);
}

function unknownKeyHint(key: string, fields: TomlSchema): string {
  const names = Object.keys(fields.named);
  const near = nearestWord(key, names);
  const all = fields.others === undefined ? names : [...names, fields.others.shown];
  return near === null ? `settings here: ${all.join(', ')}` : `did you mean ${near}?`;
}

function shown(value: unknown): string {
  if (value instanceof Date) return value.toISOString();
  const text = typeof value === 'number' ? String(value) : JSON.stringify(value);
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}
