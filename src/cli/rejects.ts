import { createCsvWriter } from '../io/csv-write.js';
import type { RejectedRow } from '../io/fixes-read.js';
import type { Sink } from '../io/sink.js';
import type { Problem } from '../records/problem.js';

/** The file of --rejects: bad rows verbatim, with the codes and the first message added at the end. */
export interface Rejects {
  /** `headerRaw` of the input the next rows come from. */
  start(headerRaw: string | null): Promise<void>;
  add(rows: readonly RejectedRow[]): Promise<void>;
  readonly count: () => number;
}

/** Null sink: rows are only counted. The delimiter is the input's own. */
export function createRejects(sink: Sink | null, delimiter: string): Rejects {
  const writer = createCsvWriter(['problem_codes', 'problem'], { delimiter, eol: '\n', bom: false });
  let started = false;
  let count = 0;
  return {
    count: () => count,
    async start(headerRaw) {
      if (sink === null || started || headerRaw === null) return;
      started = true;
      await sink.write(`${headerRaw}${delimiter}problem_codes${delimiter}problem\n`);
    },
    async add(rows) {
      count += rows.length;
      if (sink === null) return;
      for (const row of rows) await sink.write(`${row.raw}${delimiter}${writer.rows([[codes(row.problems), row.problems[0]?.message ?? '']])}`);
    },
  };
}

function codes(problems: readonly Problem[]): string {
  return [...new Set(problems.map((problem) => problem.code))].join(';');
}
