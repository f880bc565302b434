import { column } from '../../io/tables/columns/column.js';
import type { Column } from '../../io/tables/columns/column.js';
import type { RowCounts } from '../../tasks/job/manifest/roll-up.js';
import type { EntryState } from '../../tasks/job/manifest/judge-entry.js';

/** An entry of a manifest as its status tells of it. */
export interface StatusRow {
  readonly number: number;
  readonly line: number;
  readonly state: EntryState;
  /** Null: there is no record that can be read. */
  readonly verdict: string | null;
  readonly exitCode: number | null;
  /** Of the first error. */
  readonly problemCode: string | null;
  /** The first error, or what changed. */
  readonly said: string | null;
  readonly rows: RowCounts | null;
  readonly output: string;
  readonly record: string;
}

type StatusColumn = Column<never, StatusRow>;

/** Columns of the status of a manifest, in order. */
export const STATUS_COLUMNS: readonly StatusColumn[] = [
  column({ name: 'entry', kind: 'whole', get: ({ number }) => number, describe: 'number of the entry, from 1' }),
  column({
    name: 'state',
    kind: 'word',
    get: ({ state }) => state,
    describe: '`done`, `failed`, `changed` since it was run, `not-run`',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ verdict }) => verdict,
    describe: 'answer of its last run: `within`, `review`, `no`; `error` where errors stopped it',
  }),
  column({ name: 'exit_code', kind: 'whole', get: ({ exitCode }) => exitCode, describe: 'how its last run ended' }),
  column({
    name: 'problem_code',
    kind: 'text',
    get: ({ problemCode }) => problemCode,
    describe: 'code of the first error',
  }),
  column({
    name: 'problem',
    kind: 'text',
    get: ({ said }) => said,
    describe: 'the first error with its place, or what changed',
  }),
  column({ name: 'rows_read', kind: 'whole', get: ({ rows }) => rows?.read ?? null, describe: 'rows of its inputs' }),
  column({ name: 'rows_used', kind: 'whole', get: ({ rows }) => rows?.used ?? null, describe: 'those that counted' }),
  column({
    name: 'rows_rejected',
    kind: 'whole',
    get: ({ rows }) => rows?.rejected ?? null,
    describe: 'those with errors, left out on request',
  }),
  column({
    name: 'output',
    kind: 'text',
    get: ({ output }) => output,
    describe: 'its results, as the manifest names them',
  }),
  column({
    name: 'record',
    kind: 'text',
    get: ({ record }) => record,
    describe: 'its run record, as the manifest names it',
  }),
  column({ name: 'line', kind: 'whole', get: ({ line }) => line, describe: 'line of the manifest' }),
];
