import type { NetworkPageReport } from '../../records/reports/network-page-report.js';
import { markup, named, NO_MARKUP } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** Who is noisier than stated. */
export function componentsTable({ components }: NetworkPageReport): Markup {
  if (components.length === 0) return NO_MARKUP;
  return table({
    label: 'Variance components',
    caption: markup`<b>Variance components.</b> What the residuals of each group ask its stated variances to be multiplied by, ± one sigma of that factor.`,
    columns: [
      { head: 'Group', kind: 'words' },
      { head: 'Factor', kind: 'number' },
      { head: '±', kind: 'number' },
      { head: 'Sigmas times', kind: 'number' },
    ],
    rows: components.map(({ group, factor, sigma }) => [
      named(group),
      fixed(factor, 2),
      fixed(sigma, 2),
      fixed(Math.sqrt(factor), 2),
    ]),
  });
}
