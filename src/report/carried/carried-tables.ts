import type { CarriedReport } from '../../records/reports/parts/carried-report.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { fixed, millimetres, UNKNOWN } from '../page/words/numbers.js';
import { columnHead } from '../page/words/column-head.js';
import { table } from '../page/table.js';

/** What was done to every point, in order. */
export function stepsTable({ steps, way, systemName }: CarriedReport): Markup {
  if (steps.length === 0)
    return markup`<p>Points went ${way} by map projection alone: positions are now in ${systemName}.</p>`;
  return table({
    label: 'Steps of the way',
    caption: markup`<b>Steps.</b> In order, ${way}. Conversions between plane, latitude and longitude, and X, Y, Z stand between them and add nothing.`,
    columns: [
      { head: 'Step', kind: 'number' },
      { head: 'Operation', kind: 'prose' },
      { head: 'Named', kind: 'text' },
      { head: 'Stated accuracy', unit: 'm', kind: 'number' },
      { head: 'Parameters from', kind: 'prose' },
    ],
    rows: steps.map(({ name, id, accuracyM, origin }, index) => [
      String(index + 1),
      name,
      id,
      fixed(accuracyM, 3),
      origin ?? UNKNOWN,
    ]),
  });
}

/** Points as they were written, those in doubt first. */
export function pointsTable({ rows, columns, hasDms, counts, isOfSite, systemName, doubts }: CarriedReport): Markup {
  const hasCircle = rows.some(({ circle95M }) => circle95M !== null);
  const hasReasons = doubts.length > 0;
  const few =
    rows.length < counts.carried
      ? ` ${String(rows.length)} of ${String(counts.carried)} are shown, those in doubt first; the data file has all.`
      : '';
  return table({
    label: 'Points',
    caption: markup`<b>Points.</b> In ${systemName}, as they stand in the data file.${few}`,
    columns: [
      { head: 'Point', kind: 'words' },
      ...columns.map((name) => ({ ...columnHead(name, hasDms), kind: 'number' as const })),
      ...(hasCircle
        ? [{ head: 'Circle 95 %', unit: isOfSite ? 'mm, of the fit' : 'mm, of the point', kind: 'number' as const }]
        : []),
      ...(hasReasons ? [{ head: 'Reasons', kind: 'codes' as const }] : []),
    ],
    rows: rows.map(({ pointId, cells, circle95M, reasons }) => [
      named(pointId),
      ...cells.map((cell) => (cell === '' ? UNKNOWN : cell.replace('-', '\u2212'))),
      ...(hasCircle ? [millimetres(circle95M)] : []),
      ...(hasReasons ? [reasons.join(', ')] : []),
    ]),
  });
}

/** Rows that are not in the data file. */
export function refusedTable({ refused }: CarriedReport): Markup {
  return table({
    label: 'Rows refused',
    caption: markup`<b>Refused.</b> These rows are not in the data file; --rejects keeps them as they were.`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head: 'Rows', kind: 'number' },
      { head: 'First lines', kind: 'text' },
    ],
    rows: refused.map(({ code, count, firstLines }) => [code, String(count), firstLines.map(String).join(', ')]),
  });
}
