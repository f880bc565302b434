import type { ReportFile } from '../../../records/reports/reduction-report.js';
import { markup, named } from '../markup.js';
import type { Markup } from '../markup.js';
import { table } from '../table.js';

/** The files numbers came from, with what tells them from any other. */
export function filesTable(files: readonly ReportFile[]): Markup {
  return table({
    label: 'Files read',
    caption: markup`<b>Files read.</b>`,
    columns: [
      { head: 'File', kind: 'words' },
      { head: 'Read as', kind: 'text' },
      { head: 'Bytes', kind: 'number' },
      { head: 'Rows', kind: 'number' },
      { head: 'Rejected', kind: 'number' },
      { head: 'SHA-256', kind: 'prose' },
    ],
    rows: files.map((file) => [
      named(file.name),
      file.kind,
      String(file.bytes),
      String(file.rowsRead),
      String(file.rowsRejected),
      markup`<code>${file.sha256}</code>`,
    ]),
  });
}
