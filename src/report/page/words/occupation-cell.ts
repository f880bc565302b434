import { markup, together } from '../markup.js';
import type { Markup } from '../markup.js';

/** The names of the occupations that a row joins, `1+2`: a line may end after each sign. */
export function occupationCell(text: string): Markup {
  return together(text.split('+').map((one, index) => (index === 0 ? markup`${one}` : markup`+<wbr>${one}`)));
}
