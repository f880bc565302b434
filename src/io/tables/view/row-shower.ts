import { errorProblem } from '../../../records/problem.js';
import { entryAt } from '../../../records/present.js';
import type { Problem } from '../../../records/problem.js';
import { memoryRoomBytes } from '../../bytes/memory-room.js';
import type { AskedView } from './asked-view.js';
import { createHeldRows } from './held-rows.js';
import type { HeldRows } from './held-rows.js';
import { rowView } from './row-view.js';
import type { RowView } from './row-view.js';

/** Part of the memory there is that rows held for sorting may take. */
const ROOM_TAKEN = 0.5;
const MEBIBYTE = 1 << 20;

/** Shows the rows of a table one at a time, whatever form they are written in. */
export interface RowShower {
  readonly isSettled: () => boolean;
  /** Settles the view for these columns; false: it cannot be. */
  readonly settle: (names: readonly string[]) => boolean;
  /** Ends it: what was written is no table. */
  readonly refuse: () => void;
  /** Places of the columns that are shown. */
  readonly places: () => readonly number[];
  /** The text of a row, empty where it is held; null: the end, for a reason. Given: the values of all columns; what makes text of those shown. */
  readonly shown: (values: readonly string[], textOf: (cells: readonly string[]) => string) => string | null;
  /** The rows that were held, sorted. */
  readonly held: () => readonly string[];
  /** Why the table cannot be shown so; null: it can. */
  readonly problem: () => Problem | null;
}

/** Nothing is settled yet. */
export function createRowShower(asked: AskedView): RowShower {
  let problem: Problem | null = null;
  let view: RowView | null = null;
  let held: HeldRows | null = null;
  return {
    isSettled: () => view !== null,
    problem: () => problem,
    // Nothing is shown before the header is known.
    places: () => view?.shown ?? [],
    // Rows are held only where they are sorted.
    held: () => held?.sorted() ?? [],
    refuse() {
      problem = errorProblem('usage-conflict', {
        message: 'what this run writes is no table whose columns could be chosen, sorted or cut',
        hint: 'leave --select, --decimals, --sort and --for out, or write CSV',
      });
    },
    settle(names) {
      const settled = rowView(asked, names);
      if (!settled.ok) {
        problem = settled.problems[0] ?? null;
        return false;
      }
      view = settled.value;
      held = view.keys.length === 0 ? null : createHeldRows(view.keys);
      return true;
    },
    shown(values, textOf) {
      if (view === null) return null;
      const cells = view.cells(values);
      if (!cells.ok) {
        problem = cells.problems[0] ?? null;
        return null;
      }
      const text = textOf(cells.value);
      if (held === null) return text;
      held.add(
        text,
        view.keys.map(({ place }) => entryAt(values, place)),
      );
      if (held.bytes() <= ROOM_TAKEN * memoryRoomBytes()) return '';
      problem = tooMany(held.bytes());
      return null;
    },
  };
}

function tooMany(bytes: number): Problem {
  return errorProblem('file-too-large', {
    message: `--sort holds all rows of the table, which take more than ${String(Math.floor(bytes / MEBIBYTE))} MiB, half of the memory there is room for`,
    hint: 'leave --sort out, or raise the bound of memory with NODE_OPTIONS=--max-old-space-size=MIB',
  });
}
