import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { nearestWord } from '../../../core/numeric/text/nearest-word.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { AskedView } from './asked-view.js';
import { peopleDecimals, UNCERTAINTY_COLUMNS } from './people-decimals.js';

/** A view of a table whose columns are known. */
export interface RowView {
  /** Places of the columns that are shown, in the order that they are shown in. */
  readonly shown: readonly number[];
  /** Places of the columns that rows are sorted by, with their direction. */
  readonly keys: readonly { readonly place: number; readonly isDescending: boolean }[];
  /** Cells of a row as shown, values of all its columns given; or why it cannot be. Absent decimals leave a cell as it is. */
  readonly cells: (values: readonly string[]) => Outcome<readonly string[]>;
}

/**
 * Settles a view for the columns of a table.
 * Problems: usage-invalid for a column that the table does not have, with the nearest name; usage-conflict for --for people where nothing
 * says how uncertain a row is.
 */
export function rowView(asked: AskedView, names: readonly string[]): Outcome<RowView> {
  const placeOf = new Map(names.map((name, place) => [name, place]));
  const wanted = [...asked.select, ...asked.decimals.keys(), ...asked.sort.map(({ name }) => name)];
  const unknown = wanted.find((name) => !placeOf.has(name));
  if (unknown !== undefined) return failure(unknownColumn(unknown, names));
  if (
    asked.isForPeople &&
    ![...UNCERTAINTY_COLUMNS.plan, ...UNCERTAINTY_COLUMNS.height].some((name) => placeOf.has(name))
  )
    return failure(
      errorProblem('usage-conflict', {
        message: '--for people rounds to a tenth of the uncertainty, and this table states none',
        hint: 'give --decimals NAME=N',
      }),
    );
  const place = (name: string): number => placeOf.get(name) ?? -1;
  const shown = asked.select.length === 0 ? names.map((_, index) => index) : asked.select.map(place);
  return success({
    shown,
    keys: asked.sort.map(({ name, isDescending }) => ({ place: place(name), isDescending })),
    cells(values) {
      const people = asked.isForPeople
        ? peopleDecimals((name) => values[place(name)] ?? null)
        : (): number | null => null;
      const cells: string[] = [];
      for (const index of shown) {
        const name = entryAt(names, index);
        const value = entryAt(values, index);
        const decimals = asked.decimals.get(name);
        const cell = decimals === undefined ? atMost(value, people(name)) : exactly(name, value, decimals);
        if (typeof cell !== 'string') return failure(cell);
        cells.push(cell);
      }
      return success(cells);
    },
  });
}

function unknownColumn(name: string, names: readonly string[]): Problem {
  const near = nearestWord(name, names);
  return errorProblem('usage-invalid', {
    message: `the table has no column ${name}`,
    received: name,
    hint: near === null ? `its columns are ${names.join(', ')}` : `did you mean ${near}?`,
  });
}

/** A number with no more decimals than these; any other text as it is. */
function atMost(text: string, decimals: number | null): string {
  return decimals === null || decimalsOf(text) <= decimals ? text : rounded(text, decimals);
}

function exactly(name: string, text: string, decimals: number): string | Problem {
  if (text === '') return text;
  const held = decimalsOf(text);
  if (parseDecimal(text) === null || held < decimals)
    return errorProblem('usage-invalid', {
      message:
        parseDecimal(text) === null
          ? `--decimals ${name}=${decimals}: ${name} holds ${text}, which is no number`
          : `--decimals ${name}=${decimals}: ${name} is written with ${held} decimals, and more would be digits that nobody computed`,
      received: String(decimals),
    });
  return rounded(text, decimals);
}

function decimalsOf(text: string): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

function rounded(text: string, decimals: number): string {
  const value = parseDecimal(text);
  return value === null ? text : formatFixed(value, decimals);
}
