import type { ReductionReport, ReportRepeat } from '../../records/reports/reduction-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, fixed, millimetres } from '../page/words/numbers.js';
import { table } from '../page/table.js';

/** Occupations of the same point compared. */
export function repeatsSection({ repeats, repeatsLeftOut }: ReductionReport): Markup | null {
  if (repeats === null) return null;
  if (repeats.length === 0)
    return markup`<p>No point was occupied twice, so nothing was compared. A wrong set of integers shows in nothing but a repeat.</p>`;
  return markup`<p>Agreement is no proof: a shared base and shared surroundings do not show.</p>
${table({
  label: 'Repeat occupations',
  caption: markup`<b>Repeat occupations.</b> Second minus first, with the statistics of each pair. What disagrees is judged by one test of all occupations of a point, at 1 % over all points.${repeatsLeftOut === 0 ? '' : ` ${String(repeats.length)} of ${String(repeats.length + repeatsLeftOut)} are shown, those that disagree first.`}`,
  columns: [
    { head: 'Point', kind: 'words' },
    { head: 'Occ.', kind: 'text' },
    { head: 'East', unit: 'mm', kind: 'number' },
    { head: 'North', unit: 'mm', kind: 'number' },
    { head: 'Up', unit: 'mm', kind: 'number' },
    { head: 'Plan', unit: 'statistic', kind: 'number' },
    { head: 'Height', unit: 'statistic', kind: 'number' },
    { head: 'Apart', unit: 'h', kind: 'number' },
    { head: 'Finding', kind: 'text' },
  ],
  rows: repeats.map(rowOf),
})}`;
}

function rowOf(repeat: ReportRepeat): readonly (string | Markup)[] {
  const finding = [repeat.disagrees ? 'disagree' : 'agree', repeat.tooSoon === true ? 'too soon' : '']
    .filter((word) => word !== '')
    .join(', ');
  return [
    named(repeat.pointId),
    `${repeat.first}, ${repeat.second}`,
    millimetres(repeat.difference.eastM),
    millimetres(repeat.difference.northM),
    millimetres(repeat.difference.upM),
    fixed(repeat.horizontalStatistic, 2),
    fixed(repeat.verticalStatistic, 2),
    repeat.separationS === null ? UNKNOWN : fixed(repeat.separationS / 3600, 1),
    repeat.disagrees ? markup`<span class="no">${finding}</span>` : finding,
  ];
}
