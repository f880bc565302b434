import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import type { LargestFigure } from '../../../records/runs/run-summary.js';
import type { RunRow } from '../../../tasks/job/runs/run-row.js';

type RunColumn = Column<never, RunRow>;

/** A worst figure of a run and the point it belongs to: two columns. */
function largest(figure: string, describe: string): readonly RunColumn[] {
  const of = ({ largest: figures }: RunRow): LargestFigure | null =>
    figures.find((own) => own.figure === figure) ?? null;
  return [
    column({ name: `largest_${figure}`, kind: 'number', unit: 'm', get: (run) => of(run)?.value ?? null, describe }),
    column({
      name: `largest_${figure.replace(/_m$/u, '')}_at`,
      kind: 'id',
      get: (run) => of(run)?.at ?? null,
      describe: 'the point of it',
    }),
  ];
}

/** Columns of the table over runs, in order. */
export const RUN_COLUMNS: readonly RunColumn[] = [
  column({ name: 'record', kind: 'text', get: ({ record }) => record, describe: 'file of the run record' }),
  column({ name: 'command', kind: 'text', get: ({ command }) => command, describe: 'what was run' }),
  column({
    name: 'days',
    kind: 'text',
    get: ({ days }) => days,
    describe: 'day of the epochs in UTC, or the first and the last with `/` between',
  }),
  column({ name: 'title', kind: 'text', get: ({ title }) => title, describe: 'title of the session' }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ verdict }) => verdict,
    describe: 'answer of the run: `within`, `review`, `no`; `error` where errors stopped it',
  }),
  column({ name: 'points', kind: 'whole', get: ({ points }) => points, describe: 'points written or compared' }),
  column({ name: 'within', kind: 'whole', get: ({ within }) => within, describe: 'rows within, or accepted' }),
  column({ name: 'review', kind: 'whole', get: ({ review }) => review, describe: 'rows for review' }),
  column({ name: 'no', kind: 'whole', get: ({ no }) => no, describe: 'rows that are no, rejected or outside' }),
  column({ name: 'reasons', kind: 'codes', get: ({ reasons }) => reasons, describe: 'codes that rows carry' }),
  ...largest('circle_95_m', 'largest radius of a 95 % circle'),
  ...largest('vertical_95_m', 'largest 95 % half-interval in height'),
  ...largest('horizontal_difference_m', 'of a check: largest difference in plan'),
  ...largest('vertical_difference_m', 'of a check: largest difference in height, without its sign'),
  column({
    name: 'base_ids',
    kind: 'codes',
    get: ({ bases }) => bases,
    describe: 'bases of the session',
  }),
  column({ name: 'tool_version', kind: 'text', get: ({ toolVersion }) => toolVersion, describe: 'version that ran' }),
  column({ name: 'exit_code', kind: 'whole', get: ({ exitCode }) => exitCode, describe: 'how the run ended' }),
  column({ name: 'record_sha256', kind: 'text', get: ({ sha256 }) => sha256, describe: 'digest of the record' }),
];
