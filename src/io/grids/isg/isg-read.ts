import { gridLevelFrom, gridShapeProblem } from '../../../core/geoid/grid-level-from.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { byteLines } from '../../text/byte-lines.js';
import type { NumberedLine } from '../../text/byte-lines.js';
import type { GeoidFileContent } from '../grid-reading.js';
import { isgHeaderOf } from './isg-header.js';
import type { IsgHeader } from './isg-header.js';
import { isgNodesOf } from './isg-bounds.js';

/** Larger grids are not written as text. */
const MAXIMUM_TEXT_BYTES = 500_000_000;
/** The format knows some thirty keys. */
const MAXIMUM_HEADER_LINES = 1000;

/**
 * Reads an ISG 2.0 grid: free comment lines, a header, then rows of numbers from north to south and
 * from west to east.
 *
 * Given: the file's bytes.
 * Returned: one level in metres; the frame is the header's EPSG code.
 * Problems: those of `byteLines`, `isgHeaderOf` and `isgNodesOf`; `grid-unreadable`, with the line, for a value
 * that is no number, and for too few or too many values.
 * Reference: ISG, format 2.0; docs/geoid-formats.md.
 */
export function readIsg(bytes: Uint8Array): Outcome<GeoidFileContent> {
  if (bytes.byteLength > MAXIMUM_TEXT_BYTES) {
    return failure({
      code: 'grid-unsupported',
      severity: 'error',
      message: `${bytes.byteLength} bytes of text are too many for a grid`,
      hint: 'use a gtx or tif file',
    });
  }
  const lines = byteLines(bytes);
  const header = headerOf(lines);
  if (!header.ok) return header;
  const shape = isgNodesOf(header.value);
  if (!shape.ok) return shape;
  const wrong = gridShapeProblem(shape.value);
  if (wrong !== null) return failure(wrong);
  const values = valuesOf(lines, bytes.byteLength, header.value);
  if (!values.ok) return values;
  const level = gridLevelFrom(shape.value, values.value);
  return level.ok ? success({ frame: header.value.frame, precisionNote: null, levels: [level.value] }) : level;
}

/** Reads up to the end of the header. */
function headerOf(lines: Generator<Outcome<NumberedLine>>): Outcome<IsgHeader> {
  let firstLine = 0;
  let isEnded = false;
  const held: string[] = [];
  // Not for … of, which would close the lines after the header.
  for (let next = lines.next(); next.done !== true; next = lines.next()) {
    if (!next.value.ok) return next.value;
    const { text, number } = next.value.value;
    isEnded = /^end_of_head\b/u.test(text);
    if (isEnded) break;
    if (firstLine === 0) {
      if (/^begin_of_head\b/u.test(text)) firstLine = number + 1;
      continue;
    }
    // Lines of blanks are left out, and count.
    while (held.length < number - firstLine && held.length < MAXIMUM_HEADER_LINES) held.push('');
    if (held.length >= MAXIMUM_HEADER_LINES) {
      return failure({
        code: 'grid-unreadable',
        severity: 'error',
        message: `the header is longer than ${MAXIMUM_HEADER_LINES} lines`,
        where: { line: number },
      });
    }
    held.push(text);
  }
  if (firstLine === 0 || !isEnded) {
    return failure({
      code: 'grid-unreadable',
      severity: 'error',
      message: 'the file has no header between begin_of_head and end_of_head',
    });
  }
  return isgHeaderOf(held, firstLine);
}

function valuesOf(lines: Generator<Outcome<NumberedLine>>, bytes: number, header: IsgHeader): Outcome<Float64Array> {
  const { rows, columns, noData, metresPerUnit } = header;
  // Every value takes two bytes at least, so a header cannot claim more memory than the file warrants.
  if (rows * columns > bytes) return count(rows, columns, 'fewer');
  const values = new Float64Array(rows * columns);
  let read = 0;
  for (const line of lines) {
    if (!line.ok) return line;
    for (const [text] of line.value.text.matchAll(/\S+/gu)) {
      const value = parseDecimal(text);
      if (value === null) {
        return failure({
          code: 'grid-unreadable',
          severity: 'error',
          message: 'a node is not a decimal number',
          where: { line: line.value.number },
          received: text,
        });
      }
      if (read === values.length) return count(rows, columns, 'more');
      const fromNorth = Math.floor(read / columns);
      values[(rows - 1 - fromNorth) * columns + (read % columns)] =
        value === noData ? Number.NaN : value * metresPerUnit;
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
