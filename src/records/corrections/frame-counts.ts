/** What was found in a stream of bytes, so far. */
export interface FrameCounts {
  readonly bytes: number;
  /** Frames whose check is right. */
  readonly good: number;
  /** Places that begin like a frame and whose check is wrong. */
  readonly failed: number;
  /** Those of them that end where a good frame begins: frames that were damaged, not bytes that look like one. */
  readonly damaged: number;
  /** Bytes in no good frame. */
  readonly bytesOutside: number;
  /** Good frames that are byte for byte the one before them. */
  readonly repeated: number;
  /** Line feeds, and those of them behind a carriage return: in a stream one in 256 is. */
  readonly lineFeeds: number;
  readonly afterReturns: number;
  /** What stood at the end begins like a frame, where one was due, and is cut. */
  readonly isCut: boolean;
}
