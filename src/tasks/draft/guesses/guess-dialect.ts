import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { entryAt } from '../../../records/present.js';
import { exampleOf } from '../columns/column-profile.js';
import { isUnitCell } from '../columns/header-form.js';

/** How a table of text is guessed to be written, and from what. */
export interface DialectGuess {
  /** Null: nothing that sets cells apart was found. */
  readonly delimiter: string | null;
  readonly delimiterWhy: string;
  /** `mixed`: some numbers have a point and some a comma. */
  readonly decimalMark: '.' | ',' | 'mixed';
  readonly decimalWhy: string;
  readonly comment: string | null;
  /** Lines before the header. */
  readonly skipLines: number;
  readonly rowsUnderHeader: number;
  readonly hasHeader: boolean;
  /** Lines of data among those that were looked at. */
  readonly dataLines: number;
}

const DELIMITERS: readonly string[] = [';', '\t', '|', ','];
const COMMENTS: readonly string[] = ['#', '%', '//', '!'];
/** Lines that are looked at; and the share of them that must have the same count of delimiters. */
const LOOKED_AT = 400;
const ALIKE = 0.8;
/** Share of a row's cells that are numbers from which on it is data. */
const DATA_SHARE = 0.3;
/** Share of a row's cells that are units from which on it belongs to the header. */
const UNITS_SHARE = 0.5;
const WITH_COMMA = /^[+-]?\d+,\d+$/u;
const WITH_POINT = /^[+-]?\d+\.\d+$/u;

/** Guesses how a table is written from its first lines. */
export function guessDialect(text: string): DialectGuess {
  const all = text.split(/\r\n|\r|\n/u);
  const comment = commentOf(all);
  const lines = all.slice(0, LOOKED_AT).map((line, index) => ({ line, index }));
  const used = lines.filter(({ line }) => line.trim() !== '' && (comment === null || !line.startsWith(comment)));
  const found = delimiterOf(used.map(({ line }) => line));
  const delimiter = found?.delimiter ?? null;
  const rows = used.map(({ line, index }) => ({ index, cells: cellsOf(line, delimiter) }));
  const width = found?.width ?? 1;
  const start = rows.findIndex(({ cells }) => cells.length === width && isData(cells));
  const before = rows.slice(0, Math.max(0, start)).filter(({ cells }) => cells.length === width);
  const below = before.length > 1 && isUnits(entryAt(before, before.length - 1).cells) ? 1 : 0;
  const header = start < 0 ? rows.find(({ cells }) => cells.length === width) : before.at(-1 - below);
  const data = start < 0 ? [] : rows.slice(start);
  return {
    delimiter,
    delimiterWhy: found === null ? 'no comma, semicolon, tab or bar sets cells apart' : found.why,
    ...decimalMarkOf(
      data.flatMap(({ cells }) => cells),
      delimiter,
    ),
    comment,
    // Without a header nothing stands before the rows that is to be skipped.
    skipLines: header?.index ?? 0,
    rowsUnderHeader: below,
    hasHeader: header !== undefined,
    dataLines: data.length,
  };
}

/** A prefix that some lines have and a line of data has not. */
function commentOf(lines: readonly string[]): string | null {
  return (
    COMMENTS.find((prefix) => {
      const marked = lines.filter((line) => line.startsWith(prefix));
      return marked.some((line) => !/[,;\t|]/u.test(line)) && marked.length < lines.length / 2;
    }) ?? null
  );
}

function delimiterOf(
  lines: readonly string[],
): { readonly delimiter: string; readonly width: number; readonly why: string } | null {
  const found = DELIMITERS.flatMap((delimiter) => {
    const counts = new Map<number, number>();
    for (const line of lines) {
      const count = cellsOf(line, delimiter).length - 1;
      counts.set(count, (counts.get(count) ?? 0) + 1);
    }
    const [most] = [...counts].filter(([count]) => count > 0).sort((a, b) => b[1] - a[1] || b[0] - a[0]);
    return most === undefined || most[1] < ALIKE * lines.length - 2
      ? []
      : [{ delimiter, count: most[0], alike: most[1] }];
  });
  // A comma between digits may be a decimal mark: any other that fits goes before it.
  const best = found.find(({ count }) => count >= 2) ?? found[0];
  if (best === undefined) return null;
  return {
    delimiter: best.delimiter,
    width: best.count + 1,
    why: `${String(best.alike)} of ${String(lines.length)} lines have ${String(best.count)} each`,
  };
}

function cellsOf(line: string, delimiter: string | null): readonly string[] {
  if (delimiter === null) return [line];
  const cells: string[] = [];
  let from = 0;
  let isQuoted = false;
  for (let at = 0; at <= line.length; at += 1) {
    // A quote that does not open its cell is text.
    if (line[at] === '"' && (isQuoted || at === from)) isQuoted = !isQuoted;
    if (at < line.length && (isQuoted || line[at] !== delimiter)) continue;
    cells.push(
      line
        .slice(from, at)
        .trim()
        .replace(/^"(?<inside>.*)"$/u, '$<inside>'),
    );
    from = at + 1;
  }
  return cells;
}

function isData(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '');
  const numbers = filled.filter((cell) => parseDecimal(cell) !== null || isDigitsAndMarks(cell));
  return filled.length > 0 && numbers.length >= DATA_SHARE * filled.length;
}

/** Digits and marks, with no letter but that of a direction: degrees, minutes, seconds; also dates, and numbers with a comma. */
function isDigitsAndMarks(cell: string): boolean {
  return /\d/u.test(cell) && !/\p{L}/u.test(cell.replace(/[NSEW]$/iu, ''));
}

function isUnits(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '');
  return filled.length > 0 && filled.filter((cell) => isUnitCell(cell)).length >= UNITS_SHARE * filled.length;
}

function decimalMarkOf(
  cells: readonly string[],
  delimiter: string | null,
): Pick<DialectGuess, 'decimalMark' | 'decimalWhy'> {
  const commas = cells.filter((cell) => WITH_COMMA.test(cell));
  const points = cells.filter((cell) => WITH_POINT.test(cell));
  if (commas.length === 0 || delimiter === ',') return { decimalMark: '.', decimalWhy: '' };
  if (points.length === 0)
    return {
      decimalMark: ',',
      decimalWhy: `${String(commas.length)} numbers such as ${exampleOf(commas)}, none with a point`,
    };
  return {
    decimalMark: 'mixed',
    decimalWhy: `${String(commas.length)} numbers such as ${exampleOf(commas)} and ${String(points.length)} such as ${exampleOf(points)}`,
  };
}
