import { PROBLEM_CODES } from '../../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { markup, NO_MARKUP } from '../markup.js';
import type { Markup } from '../markup.js';
import { table } from '../table.js';

/** What the codes of a page mean, and what mends them; nothing where there are none. */
export function reasonsTable(codes: readonly ProblemCode[]): Markup {
  const once = [...new Set(codes)].sort();
  if (once.length === 0) return NO_MARKUP;
  return table({
    label: 'What the reasons mean',
    caption: markup`<b>Reasons.</b>`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: once.map((code) => [code, PROBLEM_CODES[code].meaning, PROBLEM_CODES[code].fix]),
  });
}
