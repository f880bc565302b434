import { Buffer } from 'node:buffer';
import { failure, success } from '../../records/outcome.js';
import type { Failure, Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { CsvDialect } from './csv-dialect.js';
import { inputPieceSize, WAY } from '../host/way.js';
import { countLineEnds, lastLineEnd, scanCsv } from './csv-scan.js';

/** A run of whole records, which can be parsed without the rest of the file. */
export interface ByteBlock {
  /** UTF-8. */
  readonly bytes: Buffer;
  /** Line of the first byte, from 1. */
  readonly firstLine: number;
  /** Whether a quote byte occurs, or the general way is to be gone; without one every line is a record. */
  readonly hasQuote: boolean;
}

/** Sizes in bytes. */
export interface BlockSizes {
  readonly blockBytes: number;
  /** A single record larger than this is refused. */
  readonly maxRecordBytes: number;
}

/** Small, so that the bytes of a block are let go before memory that is cleared often takes them for what lives long (measured). */
const BLOCK_BYTES = 1 << 15;
/** Bytes of a part of a file that is worth sending to another thread. */
export const PART_BYTES: number = 1 << 17;

/** Whether a record is made of each row at once, or blocks stay bytes: those are large, for other threads or to be copied. */
export type BlockUse = 'here' | 'threads';

export const DEFAULT_BLOCK_SIZES: BlockSizes = {
  blockBytes: inputPieceSize(BLOCK_BYTES, 1),
  maxRecordBytes: 16 << 20,
};

/**
 * Cuts a stream of UTF-8 bytes into blocks of whole records, after the lines to be skipped.
 * Problems, as the last item: those of the stream; csv-syntax for a quote never closed; file-too-large for a
 * record beyond the bound.
 */
export async function* splitCsvBlocks(
  chunks: AsyncIterable<Outcome<Buffer>>,
  dialect: CsvDialect,
  source: string,
  sizes: BlockSizes = DEFAULT_BLOCK_SIZES,
): AsyncGenerator<Outcome<ByteBlock>> {
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  const delimiter = Buffer.from(dialect.delimiter, 'utf8');
  let parts: Buffer[] = [];
  let total = 0;
  let wanted = 0;
  let line = 1;
  let linesToSkip = dialect.skipLines;

  /** Takes a block off the bytes gathered; null when they hold no whole record. */
  function take(isEnd: boolean): ByteBlock | Failure | null {
    let bytes = parts.length === 1 ? (parts[0] ?? Buffer.alloc(0)) : Buffer.concat(parts, total);
    while (linesToSkip > 0) {
      const end = firstLineEnd(bytes, isEnd);
      if (end === 0) break;
      bytes = bytes.subarray(end);
      linesToSkip -= 1;
      line += 1;
    }
    if (linesToSkip > 0) bytes = keep(bytes);
    else {
      const firstLine = line;
      const hasQuote = WAY === 'general' || bytes.includes(0x22);
      let cut: number;
      let openQuoteLine = 0;
      if (hasQuote) {
        const scan = scanCsv(bytes, line, comment, delimiter, isEnd, null);
        cut = scan.cut;
        line = scan.lineAtCut;
        openQuoteLine = scan.openQuoteLine;
      } else {
        cut = lastLineEnd(bytes, isEnd);
        line += countLineEnds(bytes.subarray(0, cut));
      }
      const rest = bytes.subarray(cut);
      keep(rest);
      // At the end a record with an open quote is handed on: the parser knows best what is wrong with it.
      if (isEnd && rest.length > 0) return { bytes, firstLine, hasQuote };
      if (rest.length > sizes.maxRecordBytes) return recordTooLarge(source, line, openQuoteLine, sizes.maxRecordBytes);
      if (cut > 0) return { bytes: bytes.subarray(0, cut), firstLine, hasQuote };
    }
    return null;
  }

  function keep(rest: Buffer): Buffer {
    parts = rest.length > 0 ? [rest] : [];
    total = rest.length;
    return rest;
  }

  for await (const chunk of chunks) {
    if (!chunk.ok) {
      yield chunk;
      return;
    }
    parts.push(chunk.value);
    total += chunk.value.length;
    // Asked for anew with each block: who reads them may ask for larger ones.
    if (total < Math.max(wanted, sizes.blockBytes)) continue;
    const block = take(false);
    if (block !== null && 'ok' in block) {
      yield block;
      return;
    }
    if (block !== null) yield success(block);
    // Twice the size before the next look at a record without an end keeps the work linear.
    wanted = Math.max(sizes.blockBytes, total * 2);
  }
  if (total === 0) return;
  const block = take(true);
  if (block !== null) yield 'ok' in block ? block : success(block);
}

function firstLineEnd(bytes: Buffer, isEnd: boolean): number {
  const lf = bytes.indexOf(0x0a);
  const cr = bytes.indexOf(0x0d);
  if (cr >= 0 && (lf < 0 || cr < lf)) {
    if (cr + 1 < bytes.length) return bytes[cr + 1] === 0x0a ? cr + 2 : cr + 1;
    return isEnd ? bytes.length : 0;
  }
  if (lf >= 0) return lf + 1;
  return isEnd ? bytes.length : 0;
}

function recordTooLarge(source: string, line: number, openQuoteLine: number, maxBytes: number): Failure {
  const bound = `${String(Math.round(maxBytes / 1048576))} MiB`;
  if (openQuoteLine > 0) {
    return failure(
      errorProblem('csv-syntax', {
        message: `the quote opened on line ${String(openQuoteLine)} is not closed within ${bound}`,
        where: { source, line: openQuoteLine },
        hint: 'close the quote, or double a quote that belongs to the text',
      }),
    );
  }
  const message = `the record starting here is larger than ${bound}`;
  return failure(errorProblem('file-too-large', { message, where: { source, line } }));
}
