import { parse } from 'csv-parse/sync';
import { Buffer } from 'node:buffer';
import { failure, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { ByteBlock } from './csv-blocks.js';
import type { CsvDialect } from './csv-dialect.js';
import { quoteInnerQuotes } from './csv-inner-quotes.js';
import { scanCsv } from './csv-scan.js';

const LINE_END = Buffer.from('\n');

/**
 * The rows of a block as text, by csv-parse. A block without a quote byte is read by `plainRecords` instead; a property
 * test holds the two to the same answer.
 * Problems: csv-syntax with the line of the record, or of the quote left open.
 */
export function quotedRows(block: ByteBlock, dialect: CsvDialect, source: string): Outcome<string[][]> {
  const delimiter = Buffer.from(dialect.delimiter, 'utf8');
  try {
    const rows: string[][] = parse(
      quoteInnerQuotes(
        dialect.comment === null ? block.bytes : withoutComments(block, dialect.comment, delimiter),
        delimiter,
      ),
      {
        delimiter: dialect.delimiter,
        record_delimiter: ['\r\n', '\n', '\r'],
        relax_column_count: true,
        skip_empty_lines: true,
      },
    );
    return success(rows);
  } catch (error) {
    return syntaxFailure(error, block, dialect, source);
  }
}

/**
 * The bytes of a block without its comments. The parser's own option for comments also takes one after a closing quote
 * (`""# text`), where it ought to report a syntax error.
 */
function withoutComments(block: ByteBlock, comment: string, delimiter: Buffer): Buffer {
  const parts: Buffer[] = [];
  const scan = scanCsv(block.bytes, block.firstLine, Buffer.from(comment, 'utf8'), delimiter, true, (start, end) => {
    parts.push(block.bytes.subarray(start, end), LINE_END);
  });
  // What is left when a quote was never closed; the parser reports it.
  parts.push(block.bytes.subarray(scan.cut));
  return Buffer.concat(parts);
}

function syntaxFailure(error: unknown, block: ByteBlock, dialect: CsvDialect, source: string): Failure {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const records = error instanceof Error && 'records' in error && typeof error.records === 'number' ? error.records : 0;
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  const lines: number[] = [];
  const scan = scanCsv(
    block.bytes,
    block.firstLine,
    comment,
    Buffer.from(dialect.delimiter, 'utf8'),
    true,
    (_start, _end, line) => lines.push(line),
  );
  if (code === 'CSV_QUOTE_NOT_CLOSED') {
    const line = scan.openQuoteLine > 0 ? scan.openQuoteLine : scan.lineAtCut;
    return syntaxError(source, line, `the quote opened on line ${String(line)} is never closed`);
  }
  const line = lines[records] ?? scan.lineAtCut;
  const message = 'a quoted field is followed by something other than a delimiter or the end of the line';
  return syntaxError(source, line, message);
}

function syntaxError(source: string, line: number, message: string): Failure {
  const hint = 'put the whole field in quotes and double each quote that belongs to the text';
  return failure(errorProblem('csv-syntax', { message, where: { source, line }, hint }));
}
