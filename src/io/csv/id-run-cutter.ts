import { Buffer } from 'node:buffer';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { ByteBlock } from './csv-blocks.js';
import { countLineEnds } from './csv-scan.js';

const LF = 0x0a;
const CR = 0x0d;
/** A run of one name longer than this is not waited for. */
const MOST_BYTES = 8 << 20;

/** Hands on blocks that begin and end with another name than their neighbours'. */
export interface IdRunCutter {
  /** The next such block; null at the end, and where only `rest` can go on: quotes, odd line ends, a very long run, a failure. */
  readonly next: () => Promise<ByteBlock | null>;
  /** Everything not handed on, in order. */
  readonly rest: () => AsyncGenerator<Outcome<ByteBlock>>;
}

/** Memory for so many bytes at least, to be the block's alone. */
export type BlockMemory = (bytes: number) => ArrayBuffer;

/**
 * Cuts blocks of plain rows where the name in column `idIndex` changes, so that the rows of one occupation are never in
 * two blocks. A change counts only between names without outer space, which no reader would take for the same.
 * Given: blocks of whole records without comments; the position of the column; the delimiter, one ASCII character; where
 * to take memory from for the blocks handed on.
 */
export function createIdRunCutter(
  blocks: AsyncGenerator<Outcome<ByteBlock>>,
  idIndex: number,
  delimiter: string,
  memory: BlockMemory,
): IdRunCutter {
  const delimiterCode = delimiter.charCodeAt(0);
  let carried: ByteBlock | null = null;
  let unread: Outcome<ByteBlock> | null = null;
  let isOver = false;

  return {
    async next() {
      while (!isOver && unread === null) {
        const item = await blocks.next();
        if (item.done === true) {
          isOver = true;
          const last: ByteBlock | null = carried;
          carried = null;
          return last;
        }
        if (!item.value.ok || item.value.value.hasQuote || hasOddLineEnd(item.value.value.bytes)) {
          unread = item.value;
          return null;
        }
        const block = joined(carried, item.value.value, memory);
        const cut = lastIdChange(block.bytes, idIndex, delimiterCode);
        if (cut === 0) carried = block;
        else {
          carried = {
            ...block,
            bytes: copied([block.bytes.subarray(cut)], exactMemory),
            firstLine: block.firstLine + countLineEnds(block.bytes.subarray(0, cut)),
          };
          return { ...block, bytes: block.bytes.subarray(0, cut) };
        }
        if (block.bytes.length > MOST_BYTES) return null;
      }
      return null;
    },
    async *rest() {
      if (carried !== null) yield success(carried);
      if (unread !== null) yield unread;
      if (!isOver) yield* blocks;
    },
  };
}

/** Copied even where nothing is carried: memory of the reader's may be shared with its other blocks. */
function joined(carried: ByteBlock | null, block: ByteBlock, memory: BlockMemory): ByteBlock {
  if (carried === null) return { ...block, bytes: copied([block.bytes], memory) };
  return { ...carried, bytes: copied([carried.bytes, block.bytes], memory) };
}

const exactMemory: BlockMemory = (bytes) => new ArrayBuffer(bytes);

function copied(parts: readonly Uint8Array[], memory: BlockMemory): Buffer {
  const length = parts.reduce((sum, part) => sum + part.length, 0);
  const bytes = Buffer.from(memory(length), 0, length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** True where a carriage return is not followed by a line feed. */
function hasOddLineEnd(bytes: Buffer): boolean {
  for (let at = bytes.indexOf(CR); at >= 0; at = bytes.indexOf(CR, at + 1)) if (bytes[at + 1] !== LF) return true;
  return false;
}

/** Start of the last row whose name differs from the name in the row before it; 0 where there is none. */
function lastIdChange(bytes: Buffer, idIndex: number, delimiterCode: number): number {
  let start = lineStart(bytes, bytes.length - 1);
  let id = idCell(bytes, start, idIndex, delimiterCode);
  while (start > 0) {
    const before = lineStart(bytes, start - 1);
    const other = idCell(bytes, before, idIndex, delimiterCode);
    if (id !== null && other !== null && !id.equals(other)) return start;
    start = before;
    id = other;
  }
  return 0;
}

/** Start of the line that ends with the line end at `end`. */
function lineStart(bytes: Buffer, end: number): number {
  return end <= 0 ? 0 : bytes.lastIndexOf(LF, end - 1) + 1;
}

/** The cell of a row that starts at `start`; null where it is empty, absent or has outer space or odd characters. */
function idCell(bytes: Buffer, start: number, idIndex: number, delimiterCode: number): Buffer | null {
  let from = start;
  let field = 0;
  for (let at = start; at < bytes.length; at += 1) {
    const byte = bytes[at] as number;
    const isEnd = byte === LF || byte === CR;
    if (byte !== delimiterCode && !isEnd) continue;
    if (field === idIndex) {
      const isPlain = at > from && isVisible(bytes[from]) && isVisible(bytes[at - 1]);
      return isPlain ? bytes.subarray(from, at) : null;
    }
    if (isEnd) return null;
    field += 1;
    from = at + 1;
  }
  return null;
}

function isVisible(byte: number | undefined): boolean {
  return byte !== undefined && byte > 0x20 && byte < 0x7f;
}
