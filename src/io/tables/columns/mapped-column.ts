import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { mappedHeaders } from '../../../records/settings/column-reading.js';
import type { ColumnReading } from '../../../records/settings/column-reading.js';
import { present } from '../../../records/present.js';
import type { TableHeader } from './column-map.js';
import { readingProblems } from './cells/file-cells.js';
import type { ReadColumn } from './cells/file-cells.js';
import { contradiction } from './header-words.js';

/** Where a mapped column is. */
interface MappedColumn {
  /** From 0; null: it is not there. */
  readonly index: number | null;
  readonly second: number | null;
  readonly problems: readonly Problem[];
}

/**
 * The place of a column that the settings map. Problems: usage-invalid for a name we do not have; config-invalid-value for what is
 * said of its cells and does not go with it; csv-missing-column; csv-header-contradicts.
 */
export function mappedColumn(
  table: TableHeader,
  columns: readonly ReadColumn[],
  name: string,
  source: string | ColumnReading,
): MappedColumn {
  const where = { source: table.source, line: table.headerLine };
  const column = columns.find((described) => described.name === name);
  if (column === undefined) return { index: null, second: null, problems: [unknownColumn(name, columns)] };
  const problems = [...readingProblems(column, source)];
  const [header, besides] = mappedHeaders(source);
  const index = mappedIndex(table, header);
  const second = besides === undefined ? null : mappedIndex(table, besides);
  if (index < 0 || (second !== null && second < 0)) {
    const message = `${name} is mapped to "${index < 0 ? header : String(besides)}", which is not there`;
    problems.push(errorProblem('csv-missing-column', { message, where, hint: found(table) }));
    return { index: null, second: null, problems };
  }
  // Where the table has no header, columns have no names.
  const title = table.header[index] ?? '';
  const against = table.hasHeader
    ? contradiction(name, title, typeof source === 'string' ? undefined : source.unit)
    : null;
  if (against !== null) problems.push(contradicted(name, title, against, where));
  return { index, second, problems };
}

function unknownColumn(name: string, columns: readonly ReadColumn[]): Problem {
  const names = columns.map((column) => column.name);
  const near = nearestWord(name, names);
  const hint = near === null ? `columns of this table: ${names.join(', ')}` : `did you mean ${near}?`;
  return errorProblem('usage-invalid', { message: `there is no column ${name} to map`, hint });
}

/** usage-conflict for two names mapped to one column. */
export function bothMapped(name: string, other: string, header: string): Problem {
  return errorProblem('usage-conflict', {
    message: `${name} and ${other} are both mapped to "${header}"`,
    received: header,
    hint: 'one column holds one quantity: map each to its own',
  });
}

function mappedIndex(table: TableHeader, header: string): number {
  if (!table.hasHeader) {
    const position = /^[1-9]\d{0,5}$/.test(header.trim()) ? present(parseDecimal(header), 'the number of digits') : 0;
    return position <= table.header.length ? position - 1 : -1;
  }
  const exact = table.header.indexOf(header.trim());
  if (exact >= 0) return exact;
  const wanted = header.trim().toLowerCase();
  return table.header.findIndex((name) => name.toLowerCase() === wanted);
}

function contradicted(
  name: string,
  header: string,
  { word, what }: { readonly word: string; readonly what: 'unit' | 'kind' },
  where: { readonly source: string; readonly line: number },
): Problem {
  return errorProblem('csv-header-contradicts', {
    message: `${name} is mapped to "${header}", whose name says ${word}`,
    where,
    received: header,
    hint:
      what === 'unit'
        ? `values are read in the unit of ${name}: say the column's own in the session, ${name} = { header = "${header}", unit = "…" }, or rename it if its name is wrong`
        : 'map the column to the quantity it holds, or rename it if its name is wrong',
  });
}

/** What a table has, for a hint. */
export function found(table: TableHeader): string {
  if (!table.hasHeader) return `the file has ${String(table.header.length)} columns`;
  const shown = table.header.slice(0, 30).join(', ');
  return `headers found: ${shown}${table.header.length > 30 ? ', …' : ''}`;
}
