import { gridLevelFrom, gridShapeProblem } from '../core/geoid/grid-level-from.js';
import { parseDecimal } from '../core/numeric/decimal-text.js';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { GeoidFileContent } from './gtx-read.js';
import { isgHeaderOf } from './isg-header.js';
import type { IsgHeader } from './isg-header.js';
import { isgNodesOf } from './isg-bounds.js';

/** Text is held as one string, whose length is bounded. */
const MAXIMUM_TEXT_BYTES = 500_000_000;

/**
 * Reads an ISG 2.0 grid: free comment lines, a header, then rows of numbers from north to south and
 * from west to east.
 *
 * Given: the file's bytes.
 * Returned: one level in metres; the frame is the header's EPSG code.
 * Problems: those of `isgHeaderOf` and `isgNodesOf`; `grid-unreadable`, with the line, for a value
 * that is no number, and for too few or too many values.
 * Reference: ISG, format 2.0; docs/geoid-formats.md.
 */
export function readIsg(bytes: Uint8Array): Outcome<GeoidFileContent> {
  if (bytes.byteLength > MAXIMUM_TEXT_BYTES) {
    return failure({ code: 'grid-unsupported', severity: 'error', message: `${bytes.byteLength} bytes of text are too many for a grid`, hint: 'use a gtx or tif file' });
  }
  const lines = new TextDecoder('utf-8').decode(bytes).split(/\r\n|\n|\r/u);
  const begin = lines.findIndex((line) => /^begin_of_head\b/u.test(line));
  const end = lines.findIndex((line) => /^end_of_head\b/u.test(line));
  if (begin < 0 || end < begin) {
    return failure({ code: 'grid-unreadable', severity: 'error', message: 'the file has no header between begin_of_head and end_of_head' });
  }
  const header = isgHeaderOf(lines.slice(begin + 1, end), begin + 2);
  if (!header.ok) return header;
  const shape = isgNodesOf(header.value);
  if (!shape.ok) return shape;
  const wrong = gridShapeProblem(shape.value);
  if (wrong !== null) return failure(wrong);
  const values = valuesOf(lines, end + 1, header.value);
  if (!values.ok) return values;
  const level = gridLevelFrom(shape.value, values.value);
  return level.ok ? success({ frame: header.value.frame, precisionNote: null, levels: [level.value] }) : level;
}

function valuesOf(lines: readonly string[], start: number, header: IsgHeader): Outcome<Float64Array> {
  const { rows, columns, noData, metresPerUnit } = header;
  // Every value takes two characters at least, so a header cannot claim more memory than the file warrants.
  const characters = lines.reduce((sum, line) => sum + line.length + 1, 0);
  if (rows * columns > characters) return count(rows, columns, 'fewer');
  const values = new Float64Array(rows * columns);
  let read = 0;
  for (let index = start; index < lines.length; index += 1) {
    for (const text of (lines[index] ?? '').split(/\s+/u)) {
      if (text === '') continue;
      const value = parseDecimal(text);
      if (value === null) {
        return failure({ code: 'grid-unreadable', severity: 'error', message: 'a node is not a decimal number', where: { line: index + 1 }, received: text });
      }
      if (read === values.length) return count(rows, columns, 'more');
      const fromNorth = Math.floor(read / columns);
      values[(rows - 1 - fromNorth) * columns + (read % columns)] = value === noData ? Number.NaN : value * metresPerUnit;
      read += 1;
    }
  }
  return read === values.length ? success(values) : count(rows, columns, 'fewer');
}

function count(rows: number, columns: number, word: 'fewer' | 'more'): Outcome<never> {
  return failure({
    code: 'grid-unreadable',
    severity: 'error',
    message: `the file has ${word} values than the ${rows} rows of ${columns} its header gives`,
    hint: word === 'fewer' ? 'the file is truncated; fetch it again' : 'check nrows and ncols',
  });
}
