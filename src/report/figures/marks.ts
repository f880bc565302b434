import { markup, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { at } from '../page/words/numbers.js';
import { symbolPath } from './shapes.js';
import type { Place, SymbolName } from './shapes.js';

/** A sign at a place. */
export interface Mark {
  readonly at: Place;
  readonly symbol: SymbolName;
  readonly classes: string;
  /** Square units of the drawing. */
  readonly area: number;
}

/** Marks in their order, the last on top: each sign is drawn once and used wherever it stands. Given: the id of the drawing. */
export function drawnMarks(id: string, marks: readonly Mark[]): Markup {
  const signs = new Map<string, Mark>();
  for (const mark of marks) signs.set(nameOf(id, mark), mark);
  return together([
    markup`<defs>${[...signs].map(([name, { classes, symbol, area }]) => markup`<path id="${name}" class="${classes}" d="${symbolPath(symbol, area)}"/>`)}</defs>`,
    ...marks.map((mark) => markup`<use href="#${nameOf(id, mark)}" x="${at(mark.at.x)}" y="${at(mark.at.y)}"/>`),
  ]);
}

function nameOf(id: string, { classes, symbol, area }: Mark): string {
  return `${id}-${classes}-${symbol}-${String(area)}`;
}
