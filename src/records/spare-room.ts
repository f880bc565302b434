/** Room outside memory, whose pieces are read again by where they stand. */
export interface SpareRoom {
  /** Lays bytes by. Returned: where they stand; null: there is no room, and they are to stay where they are. */
  readonly put: (bytes: Uint8Array) => number | null;
  /** Fills `into` with what was laid by at a place. */
  readonly get: (at: number, into: Uint8Array) => void;
  /** Gives the room back; nothing is read from it any more. */
  readonly close: () => void;
}
