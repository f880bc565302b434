import { carriedNames } from '../../io/tables/columns/carried-names.js';
import { createCsvWriter } from '../../io/csv/csv-write.js';
import type { RejectedRow } from '../../io/tables/columns/row-loop.js';
import type { Sink } from '../../io/bytes/output/sink.js';
import type { Problem } from '../../records/problem.js';
import type { RecordList } from '../../records/record-list.js';
import { entryAt } from '../../records/present.js';

/** The columns added to rejected rows. */
const OWN: readonly string[] = ['problem_codes', 'problem'];

/** The file of --rejects: bad rows verbatim, with the codes and the first message added at the end. */
export interface Rejects {
  /** `headerRaw` of the input the next rows come from. */
  start(headerRaw: string | null): Promise<void>;
  add(rows: RecordList<RejectedRow>): Promise<void>;
  readonly count: () => number;
  /** Rows are written, and not only counted. */
  readonly isAsked: boolean;
}

/** Null sink: rows are only counted. The delimiter is the input's own. */
export function createRejects(sink: Sink | null, delimiter: string): Rejects {
  const writer = createCsvWriter(OWN, { delimiter, eol: '\n', bom: false });
  let started = false;
  let count = 0;
  return {
    count: () => count,
    isAsked: sink !== null,
    async start(headerRaw) {
      if (sink === null || started || headerRaw === null) return;
      started = true;
      await sink.write(`${withoutOurs(headerRaw, delimiter)}${delimiter}${OWN.join(delimiter)}\n`);
    },
    async add(rows) {
      count += rows.length;
      if (sink === null) return;
      for (const row of rows)
        await sink.write(
          `${row.raw}${delimiter}${writer.rows([[codes(row.problems), entryAt(row.problems, 0).message]])}`,
        );
    },
  };
}

/** A header line as it stands, but for names that are ours: those of an earlier file of rejected rows. */
function withoutOurs(headerRaw: string, delimiter: string): string {
  const cells = cellsOf(headerRaw, delimiter);
  const bare = cells.map((cell) => cell.trim().replace(/^"(.*)"$/u, '$1'));
  const { names, renamed } = carriedNames(OWN, bare);
  return renamed.length === 0
    ? headerRaw
    : cells.map((cell, index) => (names[index] === bare[index] ? cell : names[index])).join(delimiter);
}

/** The cells of a line of CSV as they stand, quotes and all. */
function cellsOf(line: string, delimiter: string): readonly string[] {
  const cells: string[] = [];
  let isQuoted = false;
  let start = 0;
  for (let at = 0; at < line.length; at += 1) {
    if (line[at] === '"') isQuoted = !isQuoted;
    if (line[at] !== delimiter || isQuoted) continue;
    cells.push(line.slice(start, at));
    start = at + 1;
  }
  return [...cells, line.slice(start)];
}

function codes(problems: readonly Problem[]): string {
  return [...new Set(problems.map((problem) => problem.code))].join(';');
}
