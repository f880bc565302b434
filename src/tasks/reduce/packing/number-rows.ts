import { InternalError } from '../../../records/internal-error.js';
import type { SpareRoom } from '../../../records/spare-room.js';

/** What is laid by together, what is read again together, and how much stays in memory before the rest is laid by. `chunk` is a multiple of `near`. */
export interface RowSizes {
  readonly chunk: number;
  readonly near: number;
  readonly keptBytes: number;
}

/** Of a few thousand rows nothing is laid by. */
export const ROW_SIZES: RowSizes = { chunk: 64, near: 8, keptBytes: 4 << 20 };

/** Pieces that were read last stay for those that are near. */
const PIECES = 64;

/** Rows of numbers that are added and never changed. */
export interface NumberRows {
  readonly length: () => number;
  /** Adds a row, which `write` fills from a place on. */
  readonly add: <T>(record: T, write: (record: T, into: Float64Array, at: number) => void) => void;
  /** What `made` makes of a row. */
  readonly read: <T>(row: number, made: (from: Float64Array, at: number) => T) => T;
  /** Gives the room back; nothing is read any more. */
  readonly close: () => void;
}

interface Piece {
  place: number;
  readonly numbers: Float64Array;
}

/**
 * No rows of so many numbers each. They stand one after another, so that one of them is read again by one look into the room they are
 * laid by in. `spare`: that room; null: all stay in memory.
 */
export function createNumberRows(
  width: number,
  spare: SpareRoom | null,
  { chunk, near, keptBytes }: RowSizes = ROW_SIZES,
): NumberRows {
  const most = spare === null ? Infinity : Math.floor(keptBytes / (8 * width * chunk));
  // Of each chunk that is full: its numbers, or where they stand.
  const chunks: (Float64Array | number)[] = [];
  const pieces: (Piece | undefined)[] = [];
  let open = new Float64Array(0);
  let count = 0;

  function closeChunk(): void {
    const at = chunks.length < most ? null : (spare?.put(bytesOf(open)) ?? null);
    chunks.push(at ?? open);
    if (at === null) open = new Float64Array(0);
  }

  function pieceOf(row: number, at: number): Float64Array {
    const place = Math.floor(row / near);
    const slot = place % PIECES;
    const piece = (pieces[slot] ??= { place: -1, numbers: new Float64Array(width * near) });
    if (piece.place === place) return piece.numbers;
    spare?.get(at + 8 * width * (row % chunk) - 8 * width * (row % near), bytesOf(piece.numbers));
    piece.place = place;
    return piece.numbers;
  }

  return {
    length: () => count,
    add(record, write) {
      const inChunk = count % chunk;
      if (inChunk === 0 && open.length === 0) open = new Float64Array(width * chunk);
      write(record, open, width * inChunk);
      count += 1;
      if (count % chunk === 0) closeChunk();
    },
    read(row, made) {
      if (row < 0 || row >= count) throw new InternalError('a row that was not added');
      const own = chunks[Math.floor(row / chunk)] ?? open;
      return typeof own === 'number' ? made(pieceOf(row, own), width * (row % near)) : made(own, width * (row % chunk));
    },
    close: () => spare?.close(),
  };
}

function bytesOf({ buffer, byteOffset, byteLength }: Float64Array): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
