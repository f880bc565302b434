import { dirname, isAbsolute, relative, resolve, sep } from 'node:path';
import { openSource } from '../../io/bytes/source.js';
import { readCsv } from '../../io/csv/csv-read.js';
import { MANIFEST_DIALECT, readManifest } from '../../io/tables/manifest-read.js';
import type { ManifestRow, ManifestValue } from '../../io/tables/manifest-read.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { FileDigest } from '../../records/runs/provenance.js';
import { flagOption } from '../shell/command-spec.js';
import type { CommandSpec, Invocation, OptionValue } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import { argumentColumn, entryOption, entryOptions } from './entry-options.js';
import type { EntryOption } from './entry-options.js';
import { pathProblems } from './entry-paths.js';

/** A run that a manifest asks for. */
export interface ManifestEntry {
  /** From 1, in the order of the manifest. */
  readonly number: number;
  readonly line: number;
  /** As it would be typed in the folder of the manifest. */
  readonly words: readonly string[];
  readonly invocation: Invocation;
  /** As they stand in the manifest. */
  readonly output: string;
  readonly record: string;
  /** Absolute. */
  readonly recordPath: string;
}

/** A manifest and what it asks of a command. */
export interface Manifest {
  /** As typed. */
  readonly name: string;
  /** Absolute. */
  readonly path: string;
  /** Absolute: where the paths of its entries start. */
  readonly folder: string;
  readonly digest: FileDigest;
  readonly entries: readonly ManifestEntry[];
}

/**
 * Reads a manifest for a command.
 * Given: its name as typed; the options of the command line, which hold for every entry.
 * Problems: those of the file, of its columns and cells; usage-conflict for an option that the manifest has too; those of
 * `pathProblems`.
 */
export async function loadManifest(
  spec: CommandSpec,
  name: string,
  invocation: Invocation,
  { cwd, stdin }: Pick<Context, 'cwd' | 'stdin'>,
): Promise<Outcome<Manifest>> {
  const source = await openSource(name, { cwd, stdin });
  if (!source.ok) return source;
  const table = await readCsv(source.value, MANIFEST_DIALECT);
  if (!table.ok) return table;
  const options = entryOptions(spec);
  const argument = argumentColumn(spec);
  const rows = await readManifest(table.value, [argument, ...options]);
  if (!rows.ok) return rows;
  const path = resolve(cwd, name);
  const folder = dirname(path);
  const shared = sharedOptions(spec, entryPart(invocation), { cwd, folder });
  const { header } = table.value;
  const problems = [
    ...clashes(options, shared, rows.value, name),
    ...pathProblems(rows.value, { options, argument: argument.name, source: name, path, folder, header }),
  ];
  if (problems.length > 0) return failureOf(problems);
  const entries = rows.value.map((row, index): ManifestEntry => {
    const own = entryInvocation(row, options, argument.name, shared);
    return {
      number: index + 1,
      line: row.line,
      words: wordsOf(spec, options, own),
      invocation: own,
      output: String(row.values.get('output')),
      record: String(row.values.get('record')),
      recordPath: resolve(folder, String(row.values.get('record'))),
    };
  });
  return success({ name, path, folder, digest: source.value.digest(), entries }, rows.problems);
}

/** What of a command line holds for the entries: with --status, where that goes does not. */
function entryPart(invocation: Invocation): Invocation {
  if (!flagOption(invocation, 'status')) return invocation;
  const { output: _output, record: _record, problems: _problems, format: _format, ...options } = invocation.options;
  return { ...invocation, options };
}

/** Options that choose of a manifest, and are of no entry. */
const OF_MANIFEST: ReadonlySet<string> = new Set(['manifest', 'index', 'count', 'status']);

/** The options of the command line, their paths from the folder of the manifest. */
function sharedOptions(
  spec: CommandSpec,
  { options }: Invocation,
  { cwd, folder }: { readonly cwd: string; readonly folder: string },
): Invocation['options'] {
  const moved = (path: string): string => {
    if (path === '-' || path === 'egm96' || isAbsolute(path)) return path;
    // The folder itself.
    return relative(folder, resolve(cwd, path)).split(sep).join('/') || '.';
  };
  const entries = spec.options.flatMap((option): readonly (readonly [string, OptionValue])[] => {
    const { key, isRead } = entryOption(option);
    const value: OptionValue = options[key];
    if (value === undefined || OF_MANIFEST.has(key)) return [];
    if (!isRead) return [[key, value]];
    return [[key, typeof value === 'string' ? moved(value) : Array.isArray(value) ? value.map(moved) : value]];
  });
  return Object.fromEntries(entries);
}

/** Options that the command line and the manifest both give. */
function clashes(
  options: readonly EntryOption[],
  shared: Invocation['options'],
  rows: readonly ManifestRow[],
  source: string,
): readonly Problem[] {
  return options.flatMap(({ name, key, long, isNegated }) => {
    const value: OptionValue = shared[key];
    const isGiven = isNegated ? value === false : value !== undefined;
    const row = rows.find(({ values }) => values.has(name));
    if (!isGiven || row === undefined) return [];
    return [
      errorProblem('usage-conflict', {
        message: `${long} is given, and the manifest has a column ${name}`,
        where: { source, line: row.line, column: name },
        hint: 'leave one of the two out',
      }),
    ];
  });
}

function entryInvocation(
  { values }: ManifestRow,
  options: readonly EntryOption[],
  argument: string,
  shared: Invocation['options'],
): Invocation {
  const given = options.flatMap(({ name, key, kind, isNegated }): readonly (readonly [string, OptionValue])[] => {
    const value = values.get(name);
    if (value === undefined || (kind === 'flag' && value === false)) return [];
    return [[key, isNegated ? false : value]];
  });
  const typed: ManifestValue | undefined = values.get(argument);
  // No input: the job of the entry names it.
  const args = typed === undefined ? [] : Array.isArray(typed) ? typed.map(String) : [String(typed)];
  return { args, options: { ...shared, ...Object.fromEntries(given) } };
}

/** The command of an entry as it would be typed; without what leaves its results alone. */
function wordsOf(
  spec: CommandSpec,
  options: readonly EntryOption[],
  { args, options: given }: Invocation,
): readonly string[] {
  const words = options.flatMap(({ key, long, isNegated }): readonly string[] => {
    const value: OptionValue = given[key];
    if (value === undefined) return [];
    if (typeof value === 'boolean') return value === isNegated ? [] : [long];
    return Array.isArray(value) ? value.flatMap((one: string) => [long, one]) : [long, String(value)];
  });
  return [spec.name, ...args, ...words];
}
