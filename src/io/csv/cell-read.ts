import { parseAngle } from '../../core/numeric/text/angle-text.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { nearestWord } from '../../core/numeric/text/nearest-word.js';
import { parseUtc } from '../../core/numeric/text/parse-utc.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import { errorProblem, locateProblem } from '../../records/problem.js';
import type { Location, Problem } from '../../records/problem.js';
import type { ColumnMap, FoundColumn } from '../tables/columns/column-map.js';
import { wordHint } from './word-hint.js';
import { createHiddenWatch } from './hidden-characters.js';

/** From here on a number in a column of degrees is something else. */
const NO_ANGLE_DEG = 1000;
const NO_ANGLE_HINT =
  'these are not degrees: grid coordinates want their projected system and its column names; degrees, minutes and seconds are written 25 43 55.302';

export type { FoundColumn };

/** Where a column is. */
export type CellPlace = Pick<FoundColumn, 'name' | 'index'>;

/**
 * Reads the cells of one row at a time. Every reader gives null for an empty or absent cell and for a bad one; a bad
 * one, and an empty one that is required, is added to `problems`. Numbers are never NaN.
 */
export interface CellReader extends RowCells {
  /** Makes a row current and forgets the problems of the one before. */
  readonly start: (row: readonly string[], line: number, record: number) => void;
  /** Warnings of the rows since the last call, which cost no row: hidden characters in names and texts, each kind once a table. */
  readonly takeWarnings: () => readonly Problem[];
}

/** The cells of the current row. */
export interface RowCells {
  readonly column: (name: string) => FoundColumn;
  /** Numbers are written `12,5`. */
  readonly decimalComma: boolean;
  /** Problems of the current row. */
  readonly problems: Problem[];
  readonly requiredNumber: (column: FoundColumn, minimum?: number, maximum?: number) => number | null;
  readonly optionalNumber: (column: FoundColumn, minimum?: number, maximum?: number) => number | null;
  readonly optionalWhole: (column: FoundColumn, minimum: number, maximum: number) => number | null;
  /** An identifier: text, trimmed, without control characters; never a number. */
  readonly requiredId: (column: FoundColumn) => string | null;
  readonly optionalId: (column: FoundColumn) => string | null;
  /** The cell as it is; empty when absent. */
  readonly text: (column: CellPlace) => string;
  /** Nothing but outer space; true when absent. Of a row in the plain form space counts for something: reading the cell refuses it. */
  readonly isEmpty: (column: CellPlace) => boolean;
  /**
   * Degrees, north positive, as decimal or as degrees, minutes, seconds; −90 to 90. One of 100 or more beside a
   * longitude that would be a latitude is reported as coordinates-swapped.
   */
  readonly latitude: (column: FoundColumn, longitude: FoundColumn) => number | null;
  /** Degrees, east positive; −180 to 360 is read and 180 to 360 given as −180 to 0. */
  readonly longitude: (column: FoundColumn) => number | null;
  /** Degrees, decimal or as degrees, minutes, seconds, with any letter or none. */
  readonly direction: (column: FoundColumn, minimum: number, maximum: number) => number | null;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly time: (column: FoundColumn) => number | null;
  /** One of the words, ignoring case; the value the table gives for it. */
  readonly word: <T>(column: FoundColumn, words: ReadonlyMap<string, T>, isTranslated?: boolean) => T | null;
  /** The cell as it stands, whatever it holds; empty when absent. */
  readonly raw: (column: CellPlace) => string;
  /** Adds a problem found by other means to the current row. */
  readonly report: (code: ProblemCode, column: FoundColumn, message: string, hint?: string, received?: string) => void;
}

/** A latitude this far out is hardly a slip of the pen: it looks like a longitude. */
const NO_SLIP_DEG = 100;

const CONTROL = /\p{Cc}/u;
const GROUPED = /^[+-]?\d{1,3}(?:[ ,.']\d{3})+(?:[.,]\d+)?$/;

/** A reader of cells of the table whose columns are in `map`. `source` names the file in problems. */
export function createCellReader(map: ColumnMap, source: string, decimalComma: boolean): CellReader {
  const problems: Problem[] = [];
  const hidden = createHiddenWatch();
  let cells: readonly string[] = [];
  let line = 0;
  let record = 0;

  const where = (column: CellPlace): Location =>
    column.index < 0
      ? { source, line, record, column: column.name }
      : { source, line, record, field: column.index + 1, column: column.name };

  function report(code: ProblemCode, column: FoundColumn, message: string, hint?: string, received?: string): void {
    const detail = {
      message,
      where: where(column),
      ...(hint !== undefined && { hint }),
      ...(received !== undefined && { received }),
    };
    problems.push(errorProblem(code, detail));
  }

  /** The cell without outer space; empty when absent. */
  function cellOf(column: FoundColumn): string {
    if (column.index < 0) return '';
    const cell = cells[column.index];
    if (cell === undefined || cell === '') return '';
    const first = cell.charCodeAt(0);
    const last = cell.charCodeAt(cell.length - 1);
    return first > 32 && first < 127 && last > 32 && last < 127 ? cell : cell.trim();
  }

  function text(column: CellPlace): string {
    // A row may be shorter than its header: such a cell is empty.
    const cell = cells[column.index] ?? '';
    hidden.look(cell, () => where(column));
    return cell;
  }

  function missing(column: FoundColumn): null {
    report('value-missing', column, 'is empty and needed', 'fill the cell, or leave the row out');
    return null;
  }

  function number(column: FoundColumn, cell: string, minimum: number, maximum: number): number | null {
    const value = parseDecimal(cell, decimalComma);
    if (value === null) return badNumber(column, cell);
    if (value < minimum || value > maximum) {
      report('value-out-of-range', column, `${cell} is outside ${rangeText(minimum, maximum)}`, undefined, cell);
      return null;
    }
    return value;
  }

  function badNumber(column: FoundColumn, cell: string): null {
    if (GROUPED.test(cell)) {
      const hint = decimalComma
        ? 'take out the grouping'
        : 'take out the grouping, or give --decimal-comma if the comma is the decimal mark';
      report('value-ambiguous-number', column, `${shown(cell)} can be read as more than one number`, hint, cell);
      return null;
    }
    const isOtherMark = parseDecimal(cell, !decimalComma) !== null;
    const mark = decimalComma
      ? 'it has a decimal point: leave out --decimal-comma'
      : 'it has a decimal comma: give --decimal-comma';
    report('value-not-a-number', column, `${shown(cell)} is not a number`, isOtherMark ? mark : undefined, cell);
    return null;
  }

  function angle(
    column: FoundColumn,
    axis: 'latitude' | 'longitude',
    lowest: number,
    limit: number,
    other: FoundColumn | null,
  ): number | null {
    const cell = cellOf(column);
    if (cell === '') return missing(column);
    let value = parseDecimal(cell, decimalComma);
    if (value === null) {
      const parsed = parseAngle(decimalComma ? cell.replace(',', '.') : cell, axis);
      if (!parsed.ok) {
        for (const problem of parsed.problems) problems.push(locateProblem(problem, where(column)));
        return null;
      }
      value = parsed.value;
    }
    if (value < lowest || value > limit) {
      const otherValue = other === null ? null : parseDecimal(cellOf(other), decimalComma);
      const couldBeLatitude = otherValue !== null && Math.abs(otherValue) <= 90;
      if (other !== null && couldBeLatitude && Math.abs(value) >= NO_SLIP_DEG && Math.abs(value) <= 180) {
        const message = `${cell} is no latitude and ${other.name} ${String(otherValue)} could be one: are they exchanged?`;
        report('coordinates-swapped', column, message, 'exchange the two with --columns', cell);
        return null;
      }
      report(
        `${axis}-out-of-range`,
        column,
        `${cell} is outside ${String(lowest)}..${String(limit)}`,
        couldBeLatitude
          ? 'check the value, and that latitude and longitude are not exchanged'
          : Math.abs(value) >= NO_ANGLE_DEG
            ? NO_ANGLE_HINT
            : undefined,
        cell,
      );
      return null;
    }
    return value;
  }

  function id(column: FoundColumn, cell: string): string | null {
    hidden.look(cell, () => where(column));
    if (!CONTROL.test(cell)) return cell;
    report('value-invalid-id', column, 'the identifier holds a control character', 'mend the identifier', cell);
    return null;
  }

  return {
    problems,
    report,
    decimalComma,
    column: map.column,
    start(row, rowLine, rowRecord) {
      cells = row;
      line = rowLine;
      record = rowRecord;
      if (problems.length > 0) problems.length = 0;
    },
    requiredNumber(column, minimum = -Infinity, maximum = Infinity) {
      const cell = cellOf(column);
      return cell === '' ? missing(column) : number(column, cell, minimum, maximum);
    },
    optionalNumber(column, minimum = -Infinity, maximum = Infinity) {
      const cell = cellOf(column);
      return cell === '' ? null : number(column, cell, minimum, maximum);
    },
    optionalWhole(column, minimum, maximum) {
      const cell = cellOf(column);
      const value = cell === '' ? null : number(column, cell, minimum, maximum);
      if (value === null || Number.isInteger(value)) return value;
      report('value-out-of-range', column, `${cell} is not a whole number`, undefined, cell);
      return null;
    },
    requiredId(column) {
      const cell = cellOf(column);
      return cell === '' ? missing(column) : id(column, cell);
    },
    optionalId(column) {
      const cell = cellOf(column);
      return cell === '' ? null : id(column, cell);
    },
    takeWarnings: hidden.take,
    isEmpty: (column) => text(column).trim() === '',
    text,
    // A row may be shorter than its header: such a cell is empty.
    raw: (column) => cells[column.index] ?? '',
    latitude: (column, longitude) => angle(column, 'latitude', -90, 90, longitude),
    longitude(column) {
      const value = angle(column, 'longitude', -180, 360, null);
      return value !== null && value > 180 ? value - 360 : value;
    },
    direction(column, minimum, maximum) {
      const cell = cellOf(column);
      if (cell === '') return null;
      const angle = parseAngle(cell, 'any', decimalComma);
      if (!angle.ok) {
        for (const problem of angle.problems) report(problem.code, column, problem.message, problem.hint);
        return null;
      }
      if (angle.value >= minimum && angle.value <= maximum) return angle.value;
      report('value-out-of-range', column, `${cell} is outside ${rangeText(minimum, maximum)}`);
      return null;
    },
    time(column) {
      const cell = cellOf(column);
      if (cell === '') return null;
      const value = parseUtc(cell);
      if (typeof value === 'number') return value;
      if (value === 'zone')
        report(
          'time-without-zone',
          column,
          `${shown(cell)} does not state its zone`,
          'write UTC with a Z at the end',
          cell,
        );
      else
        report(
          'time-syntax',
          column,
          `${shown(cell)} is not an ISO 8601 time`,
          'write it as 2026-03-04T06:00:00Z',
          cell,
        );
      return null;
    },
    word(column, words, isTranslated = false) {
      const cell = cellOf(column);
      if (cell === '') return null;
      const value = wordIn(words, cell);
      if (value !== undefined) return value;
      const allowed = [...words.keys()];
      const hint = wordHint(column, cell, nearestWord(cell, allowed), isTranslated);
      report('value-unknown-word', column, `${shown(cell)} is none of ${allowed.join(', ')}`, hint, cell);
      return null;
    },
  };
}

/** What a cell stands for among words, whatever its capitals and whatever stands between its parts. */
function wordIn<Word>(words: ReadonlyMap<string, Word>, cell: string): Word | undefined {
  const small = cell.toLowerCase();
  return words.get(cell) ?? words.get(small) ?? words.get(small.replace(/[\s_-]+/gu, ' '));
}

function shown(cell: string): string {
  return `"${cell.length > 40 ? `${cell.slice(0, 40)}…` : cell}"`;
}

function rangeText(minimum: number, maximum: number): string {
  if (maximum === Infinity) return `${String(minimum)} and above`;
  if (minimum === -Infinity) return `${String(maximum)} and below`;
  return `${String(minimum)}..${String(maximum)}`;
}
