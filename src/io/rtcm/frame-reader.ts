import type { FrameCounts } from '../../records/corrections/frame-counts.js';
import { entryAt } from '../../records/present.js';
import { crc24q } from './crc-24q.js';

/** Given the content of a good frame, valid only during the call, and the place of the frame's first byte. */
export type OnFrame = (content: Uint8Array, offset: number) => void;

export interface FrameReader {
  /** The next bytes; frames may lie across pieces of any size. */
  readonly push: (piece: Uint8Array) => void;
  /** Nothing follows: what waited for more bytes is looked at as it is. */
  readonly end: () => void;
  readonly counts: () => FrameCounts;
}

/** First byte of every frame. */
const PREAMBLE = 0xd3;
/** Preamble, six bits of nothing, ten of length. */
const HEAD_BYTES = 3;
const CHECK_BYTES = 3;
/** Bytes of a frame about its content. */
export const FRAME_BYTES = HEAD_BYTES + CHECK_BYTES;
const RESERVED_BITS = 0xfc;
/** Ends of places that failed, looked back on when a good frame begins; a longest frame has room for no more. */
const MOST_ENDS = 1100;

/**
 * Finds the frames in a recorded stream, whatever lies between them. After a check that fails the search goes on one byte
 * after the preamble, since a byte of other data may look like one. Holds one frame and one piece at most.
 * Reference: RTCM-10403, the frame.
 */
export function createFrameReader(onFrame: OnFrame): FrameReader {
  let rest = new Uint8Array(0);
  let base = 0;
  let bytes = 0;
  let good = 0;
  let failed = 0;
  let damaged = 0;
  let inside = 0;
  let frameEnd = 0;
  let isCut = false;
  const failedEnds = new Set<number>();

  const take = (content: Uint8Array, offset: number): void => {
    good += 1;
    inside += content.length + FRAME_BYTES;
    if (failedEnds.has(offset)) damaged += 1;
    failedEnds.clear();
    frameEnd = offset + content.length + FRAME_BYTES;
    onFrame(content, offset);
  };
  const fail = (end: number): void => {
    failed += 1;
    if (failedEnds.size >= MOST_ENDS) failedEnds.clear();
    failedEnds.add(end);
  };

  /** Looks through what is there; gives back from where more bytes are needed. */
  function scan(window: Uint8Array, isLast: boolean): number {
    let i = window.indexOf(PREAMBLE);
    while (i >= 0) {
      if (i + HEAD_BYTES > window.length) {
        if (!isLast) return i;
        isCut ||= base + i === frameEnd && good > 0;
        break;
      }
      const second = entryAt(window, i + 1);
      if ((second & RESERVED_BITS) === 0) {
        const length = (second << 8) | entryAt(window, i + 2);
        const end = i + length + FRAME_BYTES;
        if (end > window.length) {
          if (!isLast) return i;
          isCut ||= base + i === frameEnd && good > 0;
        } else if (crc24q(window, i, end) === 0) {
          take(window.subarray(i + HEAD_BYTES, end - CHECK_BYTES), base + i);
          i = window.indexOf(PREAMBLE, end);
          continue;
        } else fail(base + end);
      }
      i = window.indexOf(PREAMBLE, i + 1);
    }
    return window.length;
  }

  return {
    push(piece) {
      bytes += piece.length;
      let window = piece;
      if (rest.length > 0) {
        window = new Uint8Array(rest.length + piece.length);
        window.set(rest);
        window.set(piece, rest.length);
      }
      const kept = scan(window, false);
      rest = window.slice(kept);
      base += kept;
    },
    end() {
      scan(rest, true);
      base += rest.length;
      rest = new Uint8Array(0);
    },
    counts: () => ({ bytes, good, failed, damaged, bytesOutside: bytes - inside, isCut }),
  };
}
