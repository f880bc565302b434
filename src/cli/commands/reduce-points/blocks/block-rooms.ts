import type { BlockMemory } from './reduce-block.js';

/**
 * Pieces of memory used again and again, by whichever thread holds them. A new piece for every block would be memory
 * that only a clearing gives back, and would make clearings more frequent than the rows do.
 */
export interface BlockRooms {
  /** A piece of at least so many bytes. */
  readonly take: (bytes: number) => ArrayBuffer;
  readonly giveBack: (room: ArrayBuffer) => void;
}

/** New pieces are so much larger than asked for, as blocks and their rows are not all of one length. */
const MARGIN = 1.25;

/** No pieces yet. There are never more than were in use at one time. */
export function createBlockRooms(): BlockRooms {
  const rooms: ArrayBuffer[] = [];
  return {
    take(bytes) {
      const room = rooms.pop();
      return room !== undefined && room.byteLength >= bytes ? room : new ArrayBuffer(Math.ceil(MARGIN * bytes));
    },
    giveBack(room) {
      rooms.push(room);
    },
  };
}

/** Pieces for rows of blocks, and for what stands beside them. */
export interface BlockMemories {
  /** For a block whose rows ask for so many bytes. */
  readonly take: (bytes: number) => BlockMemory;
  readonly giveBackRows: (room: ArrayBuffer) => void;
  readonly giveBackTables: (tables: ArrayBuffer) => void;
}

/** No pieces yet. */
export function createBlockMemories(): BlockMemories {
  const rows = createBlockRooms();
  const tables = createBlockRooms();
  return {
    // Whoever fills the tables knows how many rows there are: what comes back is large enough for most.
    take: (bytes) => ({ rows: rows.take(bytes), tables: tables.take(0) }),
    giveBackRows: rows.giveBack,
    giveBackTables: tables.giveBack,
  };
}
