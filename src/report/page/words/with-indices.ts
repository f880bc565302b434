import { markup } from '../markup.js';
import type { Markup } from '../markup.js';

/** A symbol of one letter with an index, such as `s_xy` and `σ_h`. */
const SYMBOL = /(?<!\w)(\p{L})_(\p{L}{1,3})(?!\w)/gu;

/** A sentence of the terminal whose symbols have their index below the line. */
export function withIndices(text: string): Markup {
  const pieces: Markup[] = [];
  let from = 0;
  for (const { 0: all, 1: letter = '', 2: index = '', index: at } of text.matchAll(SYMBOL)) {
    pieces.push(markup`${text.slice(from, at)}${letter}<sub>${index}</sub>`);
    from = at + all.length;
  }
  return markup`${pieces}${text.slice(from)}`;
}
