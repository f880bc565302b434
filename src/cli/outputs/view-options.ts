import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import type { RunSetting } from '../../io/documents/run-record.js';
import type { AskedView } from '../../io/tables/view/asked-view.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { isGiven, listOption, textOption } from '../shell/command-spec.js';
import type { Invocation } from '../shell/command-spec.js';

/** The options that show a table otherwise than it is made. */
const VIEW_OPTIONS = ['select', 'decimals', 'sort', 'for'] as const;

/** Most decimals that any table is written with. */
const MOST_DECIMALS = 12;

/**
 * What is asked for of the table of --output; null where nothing is. Problems: usage-invalid for what is not NAME=N; usage-conflict for
 * --for people in a format for programs, and for a view of what --explain prints.
 */
export function viewOptions(invocation: Invocation, format: string): Outcome<AskedView | null> {
  const isForPeople = textOption(invocation, 'for') === 'people';
  const select = namesOf(listOption(invocation, 'select'));
  const sort = namesOf(listOption(invocation, 'sort')).map((word) => ({
    name: word.replace(/^-/u, ''),
    isDescending: word.startsWith('-'),
  }));
  const decimals = new Map<string, number>();
  for (const part of namesOf(listOption(invocation, 'decimals'))) {
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
  if (isForPeople && format !== 'csv')
    return failure(
      errorProblem('usage-conflict', {
        message: `--for people keeps digits out of a list, and ${format} is for programs, which need them`,
        hint: 'write CSV, or leave --for people out',
      }),
    );
  if (isGiven(invocation, 'explain') && textOption(invocation, 'output') === null)
    return failure(
      errorProblem('usage-conflict', {
        message: 'what --explain prints is no table whose columns could be chosen',
        hint: 'give --output for the table',
      }),
    );
  return success({ select, decimals, sort, isForPeople });
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
