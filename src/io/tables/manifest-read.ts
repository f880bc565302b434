import { nearestWord } from '../../core/numeric/text/nearest-word.js';
import { failureOf } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { CsvTable } from '../csv/csv-read.js';
import { DEFAULT_DIALECT } from '../csv/csv-dialect.js';
import type { CsvDialect } from '../csv/csv-dialect.js';
import { column } from './columns/column.js';
import type { Column, ColumnSpec } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';

/** What a cell of a manifest holds. */
export type ManifestValue = string | number | boolean | readonly string[];

/** A column that a manifest may have. */
export interface ManifestColumn {
  readonly name: string;
  /** `flag`: yes or no; `list`: several with semicolons between. */
  readonly kind: 'text' | 'number' | 'count' | 'flag' | 'list';
  readonly choices?: readonly string[];
  readonly isNeeded: boolean;
}

/** A run that a manifest asks for. */
export interface ManifestRow {
  /** Line of the manifest, from 1. */
  readonly line: number;
  /** Filled cells by the names of their columns. */
  readonly values: ReadonlyMap<string, ManifestValue>;
}

/** A manifest: ours, plain CSV, where a line that begins with # is a comment. */
export const MANIFEST_DIALECT: CsvDialect = { ...DEFAULT_DIALECT, comment: '#' };
/** Kept for whoever reads the manifest; no run is told. */
const NOTE = 'note';
const LARGEST_COUNT = 1e12;

/**
 * Reads a manifest: one row a run.
 * Given: the table; the columns it may have. Problems: column-unknown with the nearest name for any other but `note`; those of the
 * table and its cells; nothing is returned when any row is bad.
 */
export async function readManifest(
  table: CsvTable,
  columns: readonly ManifestColumn[],
): Promise<Outcome<readonly ManifestRow[]>> {
  const unknown = unknownColumns(table, columns);
  if (unknown.length > 0) return failureOf(unknown);
  return readWholeTable<Filled>(table, {
    columns: columns.map(cellColumn),
    blank: (line) => ({ line, values: new Map() }),
  });
}

interface Filled extends ManifestRow {
  readonly values: Map<string, ManifestValue>;
}

function cellColumn({ name, kind, choices, isNeeded }: ManifestColumn): Column<Filled> {
  const put = (row: Filled, value: ManifestValue): void => {
    if (value !== '') row.values.set(name, value);
  };
  const said = { name, isNeeded, describe: name };
  const spec = ((): ColumnSpec<Filled, never, string> => {
    switch (kind) {
      case 'number':
        return { ...said, kind: 'number', put };
      case 'count':
        return { ...said, kind: 'whole', range: [0, LARGEST_COUNT], put };
      case 'flag':
        return { ...said, kind: 'yes-no', put };
      case 'list':
        return {
          ...said,
          kind: 'text',
          put: (row, text) => {
            put(row, partsOf(text));
          },
        };
      case 'text':
        // Of texts only identifiers are asked to be filled.
        return choices === undefined
          ? { ...said, kind: isNeeded ? 'id' : 'text', put }
          : { ...said, kind: 'word', words: new Map(choices.map((word) => [word, word])), put };
    }
  })();
  return column(spec);
}

function partsOf(text: string): readonly string[] {
  return text
    .split(';')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

function unknownColumns(
  { source, header, headerLine }: CsvTable,
  columns: readonly ManifestColumn[],
): readonly Problem[] {
  const names = columns.map(({ name }) => name);
  const known = new Set([...names, NOTE]);
  return header.flatMap((typed, index) => {
    if (known.has(typed.toLowerCase())) return [];
    const near = nearestWord(typed.replaceAll('-', '_').replace(/^_+/u, ''), names);
    return [
      errorProblem('manifest-column-unknown', {
        message: `${JSON.stringify(typed)} is no column of a manifest for this command`,
        where: { source, line: headerLine, field: index + 1 },
        received: typed,
        expected: names.join(', '),
        hint:
          near === null
            ? 'a column is what the command takes, or an option without its dashes and with _ between words; note holds what you like'
            : `did you mean ${near}?`,
      }),
    ];
  });
}
