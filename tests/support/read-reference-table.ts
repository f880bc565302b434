import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/**
 * What kind of evidence a row is: read in its source; computed by a program that shares nothing with ours; recalled, by
 * whoever wrote the row, from a source that was not at hand; true by definition; or what the program gave once.
 */
export type ReferenceKind = 'published' | 'independent' | 'recalled' | 'identity' | 'regression';

/** One row of a table in tests/reference: inputs and expected values by column name. */
export interface ReferenceRow {
  readonly case: string;
  readonly tolerance: number;
  readonly toleranceUnit: string;
  /** Key of docs/references.md. */
  readonly source: string;
  readonly locator: string;
  readonly kind: ReferenceKind;
  readonly note: string;
  /** The cell under a column, as text; throws when the table has no such column. */
  text(column: string): string;
  /** The cell under a column, as a finite number; throws when it is not one. */
  number(column: string): number;
  /** As `number`, but null where the cell is empty. */
  numberOrNull(column: string): number | null;
  /** The cell as a list of numbers separated by spaces. */
  numbers(column: string): readonly number[];
}

export const REFERENCE_KINDS: readonly ReferenceKind[] = [
  'published',
  'independent',
  'recalled',
  'identity',
  'regression',
];
const KINDS: readonly string[] = REFERENCE_KINDS;
const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;

/** Splits one line of CSV; a cell may stand in double quotes, with a doubled quote for a quote. */
function splitLine(line: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < line.length; i += 1) {
    const c = line.charAt(i);
    if (quoted) {
      if (c !== '"') cell += c;
      else if (line.charAt(i + 1) === '"') {
        cell += '"';
        i += 1;
      } else quoted = false;
    } else if (c === '"' && cell === '') quoted = true;
    else if (c === ',') {
      cells.push(cell);
      cell = '';
    } else cell += c;
  }
  if (quoted) throw new Error(`unclosed quote: ${line}`);
  cells.push(cell);
  return cells;
}

function strictNumber(text: string, what: string): number {
  if (!NUMBER.test(text)) throw new Error(`${what}: "${text}" is not a number`);
  return Number(text);
}

/**
 * Reads `tests/reference/<topic>.csv`. Lines that begin with `#` and blank lines are skipped. A row
 * of the wrong length, an unknown kind, or a case name used twice throws, so that a slip in a table
 * cannot pass as a check.
 */
export function readReferenceTable(topic: string): readonly ReferenceRow[] {
  const path = fileURLToPath(new URL(`../reference/${topic}.csv`, import.meta.url));
  const lines = readFileSync(path, 'utf8')
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '' && !line.startsWith('#'));
  const header = splitLine(lines[0] ?? '');
  const seen = new Set<string>();
  return lines.slice(1).map((line) => {
    const cells = splitLine(line);
    if (cells.length !== header.length) {
      throw new Error(`${topic}.csv: ${String(cells.length)} cells, ${String(header.length)} columns: ${line}`);
    }
    const text = (column: string): string => {
      const at = header.indexOf(column);
      if (at < 0) throw new Error(`${topic}.csv has no column ${column}`);
      return (cells[at] ?? '').trim();
    };
    const number = (column: string): number => strictNumber(text(column), `${topic}.csv ${column}`);
    const name = text('case');
    const kind = text('kind');
    if (seen.has(name)) throw new Error(`${topic}.csv: case ${name} occurs twice`);
    seen.add(name);
    if (!KINDS.includes(kind)) throw new Error(`${topic}.csv: unknown kind ${kind}`);
    return {
      case: name,
      tolerance: number('tolerance'),
      toleranceUnit: text('tolerance_unit'),
      source: text('source'),
      locator: text('locator'),
      kind: kind as ReferenceKind,
      note: text('note'),
      text,
      number,
      numberOrNull: (column: string): number | null => (text(column) === '' ? null : number(column)),
      numbers: (column: string): readonly number[] =>
        text(column)
          .split(/\s+/)
          .filter((word) => word !== '')
          .map((word) => strictNumber(word, `${topic}.csv ${column}`)),
    };
  });
}
