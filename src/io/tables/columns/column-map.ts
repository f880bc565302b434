import { largestOf } from '../../../core/numeric/extremes.js';
import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { ColumnMapping, ColumnReading } from '../../../records/settings/column-reading.js';
import type { DescribedColumn } from './column.js';
import type { ReadColumn } from './cells/file-cells.js';
import { contradiction } from './header-words.js';
import { bothMapped, found, mappedColumn } from './mapped-column.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { entryAt } from '../../../records/present.js';

/** One of several sets of columns must be there whole, for example a position as degrees or as geocentric metres. */
export interface ColumnChoice {
  /** What the set gives, in words: `a position`. */
  readonly what: string;
  readonly sets: readonly (readonly string[])[];
  /** Each row chooses for itself: more than one set may be there. */
  readonly isByRow?: boolean;
}

/** The columns that a kind of table can have. */
export interface TableSpec {
  readonly columns: readonly ReadColumn[];
  readonly required: readonly string[];
  readonly choices: readonly ColumnChoice[];
  /** Columns that settle the height, `z_m` included; a bare `height` is refused when none of them is there. */
  readonly heights: readonly string[];
}

/** The header of a table, and where it stands. */
export interface TableHeader {
  readonly source: string;
  readonly header: readonly string[];
  readonly headerLine: number;
  readonly hasHeader: boolean;
}

export interface PassThroughColumn {
  readonly name: string;
  readonly index: number;
}

/** A column found once and read on every row. */
export interface FoundColumn {
  readonly name: string;
  /** From 0; −1: the file has no such column. */
  readonly index: number;
  /** As it stands in the file; empty where the file has none. */
  readonly header: string;
  /** Position of a second column whose cells are read together with its own; null: there is none. */
  readonly second: number | null;
  /** What is said of its cells; null: they are as in our own files. */
  readonly reading: ColumnReading | null;
}

/** Which column of the file holds what. */
export interface ColumnMap {
  /** Position of our column, from 0; −1 when the file has none. */
  readonly index: (name: string) => number;
  readonly column: (name: string) => FoundColumn;
  /** Columns we do not know, in the file's order. */
  readonly passThrough: readonly PassThroughColumn[];
}

const BARE_HEIGHTS: ReadonlySet<string> = new Set([
  'height',
  'z',
  'elevation',
  'elev',
  'h',
  'alt',
  'altitude',
  'level',
]);

/**
 * Finds our columns in a header, ignoring case and outer space, or where `mapping` says they are (our name to the
 * file's header, or to a position from 1 in a file without a header; or to a header with what its cells are written in).
 * Problems: config-invalid-value for what is said of cells and does not go with their column; usage-invalid for a mapping of a name we do not have; usage-conflict for two names mapped to one column; csv-missing-column for a mapped header or a
 * required column that is absent, with the headers found and the nearest one; csv-column-ambiguous for two headers
 * that differ by case only, and as a warning where two sets of a choice are both there (the first is used);
 * height-kind-unstated for a bare height where a height is needed.
 */
export function mapColumns(table: TableHeader, spec: TableSpec, mapping: ColumnMapping): Outcome<ColumnMap> {
  const indexes = new Map<string, number>();
  const seconds = new Map<string, number>();
  const problems: Problem[] = [
    ...takeMapped(table, spec, mapping, indexes, seconds),
    ...takeNamed(table, spec, mapping, indexes, seconds),
  ];
  const used = new Set([...indexes.values(), ...seconds.values()]);
  const passThrough = table.header.map((name, index) => ({ name, index })).filter(({ index }) => !used.has(index));

  const where = { source: table.source, line: table.headerLine };
  const bareHeight = passThrough.find(({ name }) => BARE_HEIGHTS.has(name.toLowerCase()));
  const isHeightUnstated =
    bareHeight !== undefined && spec.heights.length > 0 && !spec.heights.some((name) => indexes.has(name));
  if (isHeightUnstated) problems.push(unstatedHeight(bareHeight, spec.heights, where));

  const missing = (name: string): boolean => !indexes.has(name) && !(isHeightUnstated && spec.heights.includes(name));
  for (const name of spec.required) {
    if (missing(name)) problems.push(missingColumn(name, passThrough, table));
  }
  const warnings: Problem[] = [];
  for (const choice of spec.choices) {
    const whole = choice.sets.filter((set) => !set.some(missing));
    if (whole.length === 0) pushAll(problems, missingChoice(choice, missing, passThrough, table));
    if (whole.length > 1 && choice.isByRow !== true) {
      const [first = [], ...others] = whole.map((set) => set.join(', '));
      const message = `${choice.what} is given twice: by ${String(first)} and by ${others.join(' and by ')}`;
      warnings.push(warningProblem('csv-column-ambiguous', { message, where, hint: `${String(first)} is used` }));
    }
  }
  if (problems.length > 0) return failureOf(problems);
  const column = columnFinder(table.header, indexes, seconds, mapping);
  return success({ index: (name) => indexes.get(name) ?? -1, column, passThrough }, warnings);
}

/** Takes the columns that are mapped. Returned: what is wrong with them. */
function takeMapped(
  table: TableHeader,
  spec: TableSpec,
  mapping: ColumnMapping,
  indexes: Map<string, number>,
  seconds: Map<string, number>,
): readonly Problem[] {
  const problems: Problem[] = [];
  for (const [name, source] of Object.entries(mapping)) {
    const mapped = mappedColumn(table, spec.columns, name, source);
    pushAll(problems, mapped.problems);
    if (mapped.index === null) continue;
    const other = [...indexes].find(([, taken]) => taken === mapped.index);
    if (other !== undefined) problems.push(bothMapped(other[0], name, entryAt(table.header, mapped.index)));
    indexes.set(name, mapped.index);
    if (mapped.second !== null) seconds.set(name, mapped.second);
  }
  return problems;
}

/** Takes the columns that the header names as we do, of those that are not mapped. Returned: two that could be one column. */
function takeNamed(
  table: TableHeader,
  spec: TableSpec,
  mapping: ColumnMapping,
  indexes: Map<string, number>,
  seconds: ReadonlyMap<string, number>,
): readonly Problem[] {
  if (!table.hasHeader) return [];
  const known = new Map(
    spec.columns.filter(({ isMappedOnly }) => isMappedOnly !== true).map(({ name }) => [name.toLowerCase(), name]),
  );
  const used = new Set([...indexes.values(), ...seconds.values()]);
  return table.header.flatMap((header, index) => {
    const name = known.get(header.toLowerCase());
    if (name === undefined || used.has(index) || name in mapping) return [];
    const earlier = indexes.get(name);
    if (earlier === undefined) {
      indexes.set(name, index);
      return [];
    }
    const message = `columns ${String(earlier + 1)} and ${String(index + 1)} could both be ${name}`;
    const where = { source: table.source, line: table.headerLine };
    return [errorProblem('csv-column-ambiguous', { message, where, hint: `say which with --columns ${name}=HEADER` })];
  });
}

function columnFinder(
  header: readonly string[],
  indexes: ReadonlyMap<string, number>,
  seconds: ReadonlyMap<string, number>,
  mapping: ColumnMapping,
): ColumnMap['column'] {
  return (name) => {
    const index = indexes.get(name) ?? -1;
    const source = index < 0 || !Object.hasOwn(mapping, name) ? undefined : mapping[name];
    return {
      name,
      index,
      // A column that is not there has no header.
      header: header[index] ?? '',
      second: seconds.get(name) ?? null,
      reading: source === undefined || typeof source === 'string' ? null : source,
    };
  };
}

/** What a header is compared with. */
export function tableSpec(
  columns: readonly (ReadColumn & Pick<DescribedColumn, 'isNeeded'>)[],
  choices: readonly ColumnChoice[] = [],
  heights: readonly string[] = [],
): TableSpec {
  return {
    columns,
    required: columns.filter(({ isNeeded }) => isNeeded).map(({ name }) => name),
    choices,
    heights,
  };
}

/** Columns that do not count: of a choice only the first set that is whole is read. */
export function columnsNotChosen(choices: readonly ColumnChoice[], map: ColumnMap): ReadonlySet<string> {
  const left = new Set<string>();
  for (const { sets, isByRow } of choices) {
    const chosen = sets.find((set) => set.every((name) => map.index(name) >= 0));
    if (isByRow === true || chosen === undefined) continue;
    for (const name of sets.flat()) if (!chosen.includes(name)) left.add(name);
  }
  return left;
}

function missingColumn(name: string, free: readonly PassThroughColumn[], table: TableHeader): Problem {
  const other = OTHER_KIND[name];
  const isOther = other !== undefined && table.header.some((header) => header.toLowerCase() === other);
  return errorProblem('csv-missing-column', {
    message: `there is no column ${name}${isOther ? `, and ${other} is a height of another kind` : ''}`,
    where: { source: table.source, line: table.headerLine },
    hint: isOther
      ? 'a height changes its kind by a geoid and never by another name: --geoid of transform names the model'
      : mend([name], free, table),
  });
}

/** Heights that differ by the geoid height, tens of metres: one of them is never mapped to the other. */
const OTHER_KIND: Readonly<Record<string, string>> = {
  ellipsoidal_height_m: 'orthometric_height_m',
  orthometric_height_m: 'ellipsoidal_height_m',
};

/** The set of which most is there is the one meant; without any, all sets are named. */
function missingChoice(
  choice: ColumnChoice,
  missing: (name: string) => boolean,
  free: readonly PassThroughColumn[],
  table: TableHeader,
): readonly Problem[] {
  const counts = choice.sets.map((set) => set.filter((name) => !missing(name)).length);
  const most = largestOf(counts, 0);
  const begun = entryAt(choice.sets, counts.indexOf(most));
  if (most > 0) return begun.filter(missing).map((name) => missingColumn(name, free, table));
  const sets = choice.sets.map((set) => set.join(', ')).join('; or ');
  return [
    errorProblem('csv-missing-column', {
      message: `there is no ${choice.what.replace(/^an? /, '')}: needed are the columns ${sets}`,
      where: { source: table.source, line: table.headerLine },
      hint: mend(entryAt(choice.sets, 0), free, table),
    }),
  ];
}

function mend(names: readonly string[], free: readonly PassThroughColumn[], table: TableHeader): string {
  if (!table.hasHeader) return `give positions with --columns ${names.map((name) => `${name}=N`).join(',')}`;
  const pairs = names.map(
    (name) =>
      `${name}=${
        nearestWord(
          name,
          free.map((column) => column.name).filter((header) => contradiction(name, header) === null),
          2,
        ) ?? 'HEADER'
      }`,
  );
  const others = names.flatMap((name) => otherUnit(name, free));
  return `map with --columns ${pairs.join(',')}; ${[...others, found(table)].join('; ')}`;
}

/** Says of a header that would be ours but for its unit that it is not read. */
function otherUnit(name: string, free: readonly PassThroughColumn[]): readonly string[] {
  const near = nearestWord(
    name,
    free.map((column) => column.name),
    3,
  );
  const against = near === null ? null : contradiction(name, near);
  return near === null || against?.what !== 'unit'
    ? []
    : [`"${near}" says ${against.word}, which ${name} is not in: write the values in its unit`];
}

function unstatedHeight(
  column: PassThroughColumn,
  heights: readonly string[],
  where: { readonly source: string; readonly line: number },
): Problem {
  return errorProblem('height-kind-unstated', {
    message: `the column "${column.name}" does not say which height it is`,
    where: { ...where, field: column.index + 1, column: column.name },
    hint: `say it with ${heights
      .filter((name) => name.endsWith('_height_m'))
      .map((name) => `--columns ${name}=${column.name}`)
      .join(' or ')}`,
  });
}
