import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { DEFAULT_DIALECT } from '../../io/csv/csv-dialect.js';
import { readCsv } from '../../io/csv/csv-read.js';
import type { CsvTable } from '../../io/csv/csv-read.js';
import { readPairs } from '../../io/tables/pairs-read.js';
import { readPolarLines } from '../../io/tables/polar-read.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PolarLine } from '../../records/points/point-join.js';
import type { LinesAsked } from '../../tasks/join/join-lines.js';
import { workingFolder } from './as-it-stands.js';
import type { Surroundings } from '../surroundings.js';

/** A table beside the points, read to its end. */
export interface SideTable<Row> {
  readonly source: Source;
  readonly rows: readonly Row[];
}

/** Reads a table beside the points whole. Its form is ours: plain CSV. Problems: those of opening it and of its rows. */
export async function readSideTable<Row>(
  path: string,
  read: (table: CsvTable) => Promise<Outcome<readonly Row[]>>,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<SideTable<Row>>> {
  const source = await openSource(path, { cwd, stdin, encoding: null });
  if (!source.ok) return source;
  const table = await readCsv(source.value, DEFAULT_DIALECT);
  if (!table.ok) return failureOf([...source.problems, ...table.problems]);
  const rows = await read(table.value);
  const problems = [...source.problems, ...table.problems, ...rows.problems];
  return rows.ok ? success({ source: source.value, rows: rows.value }, problems) : failureOf(problems);
}

/** A file of pairs of points, for `joinLines`. */
type PairsAsked = Extract<LinesAsked, { readonly kind: 'pairs' }>;

/**
 * The lines that a file of pairs asks for. Given: its path, from the working folder. Problems: those of opening it and of every bad row.
 *
 * @example
 * const asked = await readPairsFile('../quillback-pan-site/pairs.csv');
 * asked.value.pairs[0].toId; // 'QS-3'
 */
export async function readPairsFile(path: string): Promise<Outcome<PairsAsked>> {
  const read = await readSideTable(path, (table) => readPairs(table, 1), workingFolder());
  return read.ok
    ? success({ kind: 'pairs', source: read.value.source.name, pairs: read.value.rows }, read.problems)
    : read;
}

/**
 * The lines of a file of directions and distances, for `setOutPolars`. Given: its path, from the working folder. Problems: those of
 * opening it and of every bad row.
 *
 * @example
 * const lines = await readPolarFile('../quillback-pan-site/polar.csv');
 * lines.value[0].distanceM; // 412.55
 */
export async function readPolarFile(path: string): Promise<Outcome<readonly PolarLine[]>> {
  const read = await readSideTable(path, (table) => readPolarLines(table, 1), workingFolder());
  return read.ok ? success(read.value.rows, read.problems) : read;
}
