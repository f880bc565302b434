import type { OutputFormat } from '../../../files/points/points-writer.js';
import type { Sink } from '../../../io/bytes/output/sink.js';
import { isParquetName } from '../../../io/parquet/parquet-name.js';
import type { ParquetChange } from '../../../io/parquet/parquet-write.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { flagOption, textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';
import { formatOfTable, SIDE_TABLE_NAMES, pathOfTable } from './side-tables.js';
import type { RunTable } from './side-tables.js';
import { StopError, unwrap } from './stop.js';

/** The tables of a run whose names end in `.parquet`: they are made as CSV, and become Parquet once they are whole. */
export interface ParquetTables {
  /** Told of every output that is opened. Problems stop the run. */
  readonly opened: (path: string, sink: Sink) => Promise<Sink>;
  /** Changes them, once all of them was written and shown as is asked. Problems stop the run. */
  readonly convert: () => Promise<void>;
}

/** No table yet. */
export function createParquetTables(invocation: Invocation, format: OutputFormat): ParquetTables {
  const opened: { readonly sink: Sink; readonly parquet: ParquetChange }[] = [];
  return {
    async opened(path, sink) {
      if (!isParquetName(path)) return sink;
      const conflict = conflictOf(path, invocation, format);
      if (conflict !== null) throw new StopError([conflict]);
      const [{ parquetChange }, { knownColumns }] = await Promise.all([
        import('../../../io/parquet/parquet-write.js'),
        import('../../outputs/known-columns.js'),
      ]);
      const known = knownColumns();
      const parquet = unwrap(await parquetChange(path, (name) => known.get(name) ?? null), () => undefined);
      opened.push({ sink, parquet });
      return sink;
    },
    async convert() {
      for (const { sink, parquet } of opened) {
        await sink.rewrite(parquet.change);
        const problem = parquet.problem();
        if (problem !== null) throw new StopError([problem]);
      }
    },
  };
}

/** What speaks against writing Parquet there; null: nothing. */
function conflictOf(path: string, invocation: Invocation, format: OutputFormat): Problem | null {
  const table = (['output', ...SIDE_TABLE_NAMES] as const).find(
    (name: RunTable) => pathOfTable(name, invocation) === path,
  );
  const form = table === undefined ? null : formatOfTable(table, format, path);
  if (form === 'csv' && !flagOption(invocation, 'omitHeader')) return null;
  const message =
    form === null
      ? `${path} is to hold what is no table, and Parquet holds nothing else`
      : form === 'csv'
        ? 'a Parquet file has the names of its columns, and --omit-header leaves them out'
        : `--format ${form} and the ending .parquet say two forms`;
  return errorProblem('usage-conflict', { message, hint: 'give the file another ending, or leave the option out' });
}

/** What a run writes of itself, which is no table: its form, and the ending it goes by. */
const NO_TABLES = {
  record: ['the run record is JSON', '.json'],
  problems: ['problems are lines of JSON', '.jsonl'],
  report: ['a page is HTML', '.html'],
} as const;

/** Stops the run with usage-conflict where --record, --problems or --report names a Parquet file, which holds tables alone. */
export function refuseNoTables(invocation: Invocation): void {
  for (const [option, [form, ending]] of Object.entries(NO_TABLES)) {
    const path = textOption(invocation, option as keyof typeof NO_TABLES);
    if (path === null || !isParquetName(path)) continue;
    throw new StopError([
      errorProblem('usage-conflict', {
        message: `--${option} ${path}: ${form}, and a Parquet file holds a table`,
        where: { source: path },
        received: path,
        hint: `give it the ending ${ending}`,
      }),
    ]);
  }
}
