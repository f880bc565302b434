import type { Problem } from '../../../records/problem.js';

/** A column of the input that is written under another name. */
export interface RenamedColumn {
  readonly from: string;
  readonly to: string;
}

/** The names under which the other columns of the input are written. */
export interface CarriedNames {
  /** One for each column of the input, in order. */
  readonly names: readonly string[];
  readonly renamed: readonly RenamedColumn[];
}

/** Stands before the name of a column of the input that one of ours has too. */
const INPUT_PREFIX = 'input_';
const SHOWN = 12;

/**
 * Names for columns that are carried from the input to the output, such that none stands twice there.
 * Given: the names of our own columns; those of the input's. Returned: the input's names, with `input_` before each that
 * a reader would take for one of ours (case and outer space do not count), and before it again as long as the name made
 * is taken. Names of the input that clash with nothing of ours stay as they are.
 */
export function carriedNames(own: readonly string[], input: readonly string[]): CarriedNames {
  const ours = new Set(own.map(keyOf));
  const taken = new Set([...ours, ...input.map(keyOf)]);
  const renamed: RenamedColumn[] = [];
  const names = input.map((from) => {
    if (!ours.has(keyOf(from))) return from;
    let to = `${INPUT_PREFIX}${from.trim()}`;
    while (taken.has(keyOf(to))) to = `${INPUT_PREFIX}${to}`;
    taken.add(keyOf(to));
    renamed.push({ from, to });
    return to;
  });
  return { names, renamed };
}

/** The note that says which columns were renamed; none where none was. */
export function renamedColumnNotes({ renamed }: CarriedNames): readonly Problem[] {
  if (renamed.length === 0) return [];
  const shown = renamed
    .slice(0, SHOWN)
    .map(({ from, to }) => `${from} as ${to}`)
    .join(', ');
  const more = renamed.length > SHOWN ? `, and ${String(renamed.length - SHOWN)} more` : '';
  return [
    {
      code: 'csv-column-renamed',
      severity: 'note',
      message: `columns of the input that have the name of one of ours are written under another: ${shown}${more}`,
      hint: 'a column never appears twice; map one that is meant with --columns',
    },
  ];
}

/** Names as readers compare them. */
function keyOf(name: string): string {
  return name.trim().toLowerCase();
}
