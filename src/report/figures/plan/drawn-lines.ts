import type { PlottedLine } from '../../../records/reports/network-page-report.js';
import type { Place } from '../shapes.js';
import type { PlanView } from './plan-view.js';
import { pickedBySpread } from './spread-out.js';

const MOST_LINES = 300;

/** Lines by what they are; of those that fail or are in doubt none is left out. */
export interface LineCounts {
  readonly failing: number;
  readonly doubtful: number;
  readonly toControl: { readonly all: number; readonly drawn: number };
  readonly others: { readonly all: number; readonly drawn: number };
}

/**
 * Lines that fail and those in doubt, those that meet control, and of the others some, spread over the plan.
 * Given: the lines; how many of those that are as they should be are drawn of each kind, null: as many as there is room for; the plan.
 */
export function drawnLines(
  lines: readonly PlottedLine[],
  mostQuiet: number | null,
  view: PlanView,
): { readonly lines: readonly PlottedLine[]; readonly lineCounts: LineCounts } {
  const middleOf = ({ from, to }: PlottedLine): Place => middle(view.place(from), view.place(to));
  const failing = lines.filter(({ answer }) => answer === 'no');
  const doubtful = lines.filter(({ answer }) => answer === 'review');
  const sound = lines.filter(({ answer }) => answer === 'within');
  const tied = sound.filter(({ meetsControl }) => meetsControl === true);
  const others = sound.filter(({ meetsControl }) => meetsControl !== true);
  const room = Math.max(1, MOST_LINES - failing.length - doubtful.length);
  const most = mostQuiet ?? room; // As many as there is room for.
  const drawnTied = pickedBySpread(tied, middleOf, Math.min(room, Math.max(most, 1)));
  const drawnOthers = pickedBySpread(others, middleOf, Math.max(1, Math.min(most, room - drawnTied.length)));
  return {
    lines: [...drawnOthers, ...drawnTied, ...doubtful, ...failing],
    lineCounts: {
      failing: failing.length,
      doubtful: doubtful.length,
      toControl: { all: tied.length, drawn: drawnTied.length },
      others: { all: others.length, drawn: drawnOthers.length },
    },
  };
}

function middle(a: Place, b: Place): Place {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}
