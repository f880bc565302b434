import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { RunSetting } from '../../io/documents/run-record.js';
import type { AskedView } from '../../io/tables/view/asked-view.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { isSideTable, pathOfTable } from '../shell/run/side-tables.js';
import type { RunTable } from '../shell/run/side-tables.js';
import { isGiven, listOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** The options that show a table otherwise than it is made. */
const VIEW_OPTIONS = ['select', 'decimals', 'sort', 'for'] as const;

/** Most decimals that any table is written with. */
const MOST_DECIMALS = 12;

/** What is asked for of each table of a run; of the others nothing is. */
export type AskedViews = ReadonlyMap<RunTable, AskedView>;

/**
 * What is asked for of the tables of a run: of that of --output, and after `TABLE:` of one beside it. Problems: usage-invalid for what is
 * not NAME=N; usage-conflict for --for people in a format for programs, for a view of what --explain prints, and for that of a table
 * which is not written.
 */
export function viewOptions(invocation: Invocation, format: string): Outcome<AskedViews> {
  const views = new Map<RunTable, AskedView>();
  const lists = VIEW_LISTS.map((name) => byTable(listOption(invocation, name)));
  const isForPeople = textOption(invocation, 'for') === 'people';
  const tables = new Set<RunTable>(lists.flatMap((one) => [...one.keys()]));
  if (isForPeople) tables.add('output');
  for (const table of tables) {
    if (pathOfTable(table, invocation) === null) return failure(notWritten(table));
    const [select, decimals, sort] = lists.map((one) => one.get(table) ?? NONE) as [Names, Names, Names];
    const view = viewOf(select, decimals, sort, table === 'output' && isForPeople);
    if (!view.ok) return view;
    if (view.value !== null) views.set(table, view.value);
  }
  const conflict = views.has('output') ? outputConflict(invocation, format, isForPeople) : null;
  return conflict === null ? success(views) : failure(conflict);
}

type Names = readonly string[];
const NONE: Names = [];
const VIEW_LISTS = ['select', 'decimals', 'sort'] as const;

/** The names of an option by the table they are for: `epochs:point_id,verdict` is for that of --epochs. */
function byTable(texts: Names): ReadonlyMap<RunTable, Names> {
  const found = new Map<RunTable, Names>();
  for (const text of texts) {
    const [word = ''] = text.split(':', 1);
    const isBeside = word.length < text.length && isSideTable(word);
    const table = isBeside ? word : 'output';
    const names = namesOf([isBeside ? text.slice(word.length + 1) : text]);
    found.set(table, [...(found.get(table) ?? NONE), ...names]);
  }
  return found;
}

function viewOf(select: Names, decimalsOf: Names, sortBy: Names, isForPeople: boolean): Outcome<AskedView | null> {
  const sort = sortBy.map((word) => ({ name: word.replace(/^-/u, ''), isDescending: word.startsWith('-') }));
  const decimals = new Map<string, number>();
  for (const part of decimalsOf) {
    const [, name, count] = /^([a-z][a-z0-9_]*)=(\d+)$/u.exec(part) ?? [];
    // No text is no number.
    const value = parseDecimal(count ?? '');
    if (name === undefined || value === null || value > MOST_DECIMALS)
      return failure(
        errorProblem('usage-invalid', {
          message: `--decimals ${part} is not NAME=N`,
          received: part,
          hint: 'for example --decimals easting_m=2,northing_m=2',
        }),
      );
    decimals.set(name, value);
  }
  if (!isForPeople && select.length === 0 && sort.length === 0 && decimals.size === 0) return success(null);
  const twice = select.find((name, index) => select.indexOf(name) !== index);
  if (twice !== undefined)
    return failure(errorProblem('usage-invalid', { message: `--select names ${twice} twice`, received: twice }));
  return success({ select, decimals, sort, isForPeople });
}

function notWritten(table: RunTable): Problem {
  return errorProblem('usage-conflict', {
    message: `columns of ${table} are asked for, and --${table} is not given`,
    received: table,
    hint: `give --${table} FILE, or leave ${table}: out`,
  });
}

/** What speaks against showing the table of --output otherwise; null: nothing. */
function outputConflict(invocation: Invocation, format: string, isForPeople: boolean): Problem | null {
  if (isForPeople && format !== 'csv')
    return errorProblem('usage-conflict', {
      message: `--for people keeps digits out of a list, and ${format} is for programs, which need them`,
      hint: 'write CSV, or leave --for people out',
    });
  if (isGiven(invocation, 'explain') && textOption(invocation, 'output') === null)
    return errorProblem('usage-conflict', {
      message: 'what --explain prints is no table whose columns could be chosen',
      hint: 'give --output for the table',
    });
  return null;
}

function namesOf(texts: readonly string[]): readonly string[] {
  return texts
    .flatMap((text) => text.split(','))
    .map((text) => text.trim())
    .filter((text) => text !== '');
}

/** The options of a view that were given, as settings of the run's record. */
export function viewSettings({ options }: Invocation): readonly RunSetting[] {
  return VIEW_OPTIONS.flatMap((name): readonly RunSetting[] => {
    const value = options[name];
    return value === undefined ? [] : [{ key: `output.${name}`, value, from: 'command line' }];
  });
}
