import { Buffer } from 'node:buffer';
import { InternalError } from '../../../records/internal-error.js';

/** The two cells of a row that may be written anew. */
export interface RowVerdict {
  readonly verdict: string;
  readonly reasons: readonly string[];
}

/** How the rows to be marked were written. */
export interface WrittenRows {
  readonly format: 'csv' | 'geojson' | 'json' | 'jsonl';
  /** Place of the verdict among the columns of CSV; the reasons follow it. */
  readonly verdictColumn: number;
  /** Whether a header stands before the rows of CSV. */
  readonly hasHeader: boolean;
}

const NEWLINE = 0x0a;
const QUOTE = 0x22;
const COMMA = 0x2c;

/**
 * Goes through rows of ours once more and writes the verdict and the reasons of some of them anew; every other byte stays.
 * Rows are counted from 0; GeoJSON and JSON have one a line, CSV one a record.
 */
export function markRows(
  rows: WrittenRows,
  isMarked: (row: number) => boolean,
  mark: (row: number, old: RowVerdict) => RowVerdict,
): (chunks: AsyncIterable<Buffer>) => AsyncGenerator<Buffer> {
  const isCsv = rows.format === 'csv';
  const write = (record: Buffer, row: number): Buffer =>
    isCsv
      ? csvRow(record, rows.verdictColumn, (old) => mark(row, old))
      : Buffer.from(
          jsonRow(record.toString('utf8'), rows.format, (old) => mark(row, old)),
          'utf8',
        );
  return async function* marked(chunks) {
    let row = (isCsv && !rows.hasHeader) || rows.format === 'jsonl' ? 0 : -1;
    let isQuoted = false;
    let open: Buffer[] = [];
    for await (const chunk of chunks) {
      let from = 0;
      let start = 0;
      for (let at = 0; at < chunk.length; at += 1) {
        const byte = chunk[at];
        if (byte === QUOTE && isCsv) isQuoted = !isQuoted;
        if (byte !== NEWLINE || isQuoted) continue;
        if (isMarked(row)) {
          if (start > from) yield chunk.subarray(from, start);
          yield write(Buffer.concat([...open, chunk.subarray(start, at + 1)]), row);
          from = at + 1;
        } else if (open.length > 0) yield* open;
        open = [];
        start = at + 1;
        row += 1;
      }
      // What goes on in the next chunk waits: it may be of a row to be marked.
      if (start > from) yield chunk.subarray(from, start);
      if (start < chunk.length) open.push(Buffer.from(chunk.subarray(start)));
    }
    yield* open;
  };
}

function csvRow(record: Buffer, verdictColumn: number, mark: (old: RowVerdict) => RowVerdict): Buffer {
  const commas: number[] = [];
  let isQuoted = false;
  let end = record.length - 1;
  if (record[end - 1] === 0x0d) end -= 1;
  for (let at = 0; at < end && commas.length < verdictColumn + 2; at += 1) {
    if (record[at] === QUOTE) isQuoted = !isQuoted;
    else if (record[at] === COMMA && !isQuoted) commas.push(at);
  }
  const from = (commas[verdictColumn - 1] ?? -1) + 1;
  const middle = commas[verdictColumn];
  if (middle === undefined) throw new InternalError('a row of ours without reasons');
  const to = commas[verdictColumn + 1] ?? end;
  const cell = record.toString('latin1', middle + 1, to);
  const { verdict, reasons } = mark({
    verdict: record.toString('latin1', from, middle),
    reasons: cell === '' ? [] : cell.split(';'),
  });
  return Buffer.concat([
    record.subarray(0, from),
    Buffer.from(`${verdict},${reasons.join(';')}`, 'latin1'),
    record.subarray(to),
  ]);
}

/** Within a text of JSON quotes are escaped: only members of ours look like these, and the first of them is. */
const JSON_VERDICT = /"verdict":"([a-z]+)","reasons":(\[[^\]]*\]|"[^"]*"|null)/u;

function jsonRow(line: string, format: WrittenRows['format'], mark: (old: RowVerdict) => RowVerdict): string {
  const found = JSON_VERDICT.exec(line);
  if (found === null) throw new InternalError('a row of ours without a verdict');
  const held: unknown = JSON.parse(found[2] ?? 'null');
  const old = Array.isArray(held) ? held.map(String) : typeof held === 'string' ? held.split(';') : [];
  const { verdict, reasons } = mark({ verdict: found[1] ?? '', reasons: old });
  const said =
    format !== 'geojson' ? JSON.stringify(reasons) : reasons.length === 0 ? 'null' : JSON.stringify(reasons.join(';'));
  return `${line.slice(0, found.index)}"verdict":"${verdict}","reasons":${said}${line.slice(found.index + found[0].length)}`;
}
