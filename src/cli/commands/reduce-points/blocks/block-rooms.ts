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
