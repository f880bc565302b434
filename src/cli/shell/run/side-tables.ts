import { extname } from 'node:path';
import type { OutputFormat } from '../../../files/points/points-writer.js';
import { textOption } from '../command-spec.js';
import type { Invocation } from '../command-spec.js';

/** Options that name a table beside that of --output. They are CSV whatever --format says; `ending`: of the form that their name ends in. */
const SIDE_TABLES = {
  epochs: 'csv',
  residuals: 'csv',
  observations: 'csv',
  timetable: 'csv',
  outages: 'ending',
  availability: 'ending',
  windows: 'ending',
  tracks: 'ending',
  sky: 'ending',
} as const;

/** A table beside that of --output, by its option. */
export type SideTable = keyof typeof SIDE_TABLES;

/** Every one of them. */
export const SIDE_TABLE_NAMES: readonly SideTable[] = Object.keys(SIDE_TABLES).filter(isSideTable);

/** Whether a word names a table beside that of --output. */
export function isSideTable(word: string): word is SideTable {
  return Object.hasOwn(SIDE_TABLES, word);
}

/** A table of a run. */
export type RunTable = SideTable | 'output';

/** Where a table of a run goes; null: not asked for. */
export function pathOfTable(table: RunTable, invocation: Invocation): string | null {
  return table === 'output' ? (textOption(invocation, 'output') ?? '-') : textOption(invocation, table);
}

/** The form that a table of a run is written in. */
export function formatOfTable(table: RunTable, format: OutputFormat, path: string): OutputFormat {
  if (table === 'output') return format;
  return SIDE_TABLES[table] === 'csv' ? 'csv' : formatByEnding(path);
}

/** The form that the ending of a file says; of anything else CSV. */
export function formatByEnding(path: string): OutputFormat {
  switch (extname(path).toLowerCase()) {
    case '.geojson':
      return 'geojson';
    case '.json':
      return 'json';
    case '.jsonl':
      return 'jsonl';
    default:
      return 'csv';
  }
}
