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
export const FRAME_BYTES: number = HEAD_BYTES + CHECK_BYTES;
const RESERVED_BITS = 0xfc;
/** Ends of places that failed, looked back on when a good frame begins; a longest frame has room for no more. */
const MOST_ENDS = 1100;

/** What stands at a preamble: a whole frame, one whose check is wrong, the beginning of one, or none at all. */
type Standing = { readonly kind: 'frame' | 'foul'; readonly end: number } | { readonly kind: 'begun' | 'none' };

const BEGUN: Standing = { kind: 'begun' };
const NONE: Standing = { kind: 'none' };

function standingAt(window: Uint8Array, at: number): Standing {
  if (at + HEAD_BYTES > window.length) return BEGUN;
  const second = entryAt(window, at + 1);
  if ((second & RESERVED_BITS) !== 0) return NONE;
  const end = at + ((second << 8) | entryAt(window, at + 2)) + FRAME_BYTES;
  if (end > window.length) return BEGUN;
  return { kind: crc24q(window, at, end) === 0 ? 'frame' : 'foul', end };
}

/** Counts places that fail, and those of them that were frames. */
interface FoulCount {
  readonly failed: number;
  readonly damaged: number;
  /** A place failed that would have ended there. */
  readonly fail: (end: number) => void;
  /** A good frame begins. */
  readonly frameAt: (offset: number) => void;
}

function createFoulCount(): FoulCount {
  const ends = new Set<number>();
  let failed = 0;
  let damaged = 0;
  return {
    get failed() {
      return failed;
    },
    get damaged() {
      return damaged;
    },
    fail(end) {
      failed += 1;
      if (ends.size >= MOST_ENDS) ends.clear();
      ends.add(end);
    },
    frameAt(offset) {
      if (ends.has(offset)) damaged += 1;
      ends.clear();
    },
  };
}

/** The three bytes of a frame's check with its length: what tells it from others. */
function markOf(window: Uint8Array, from: number, end: number): number {
  const check = (entryAt(window, end - 3) << 16) | (entryAt(window, end - 2) << 8) | entryAt(window, end - 1);
  return check * 2048 + (end - from);
}

/** Counts good frames, and those of them that are the one before again. */
interface GoodCount {
  good: number;
  /** Bytes in them. */
  inside: number;
  /** Where the last one ends. */
  end: number;
  repeated: number;
  readonly add: (contentBytes: number, offset: number, mark: number) => void;
}

function createGoodCount(): GoodCount {
  let before = -1;
  const count: GoodCount = {
    good: 0,
    inside: 0,
    end: 0,
    repeated: 0,
    add(contentBytes, offset, mark) {
      count.good += 1;
      // Length and check together are the same of two frames that differ once in 16 million.
      if (mark === before) count.repeated += 1;
      before = mark;
      count.inside += contentBytes + FRAME_BYTES;
      count.end = offset + contentBytes + FRAME_BYTES;
    },
  };
  return count;
}

const LINE_FEED = 0x0a;
const CARRIAGE_RETURN = 0x0d;

/** Counts line feeds, and those behind a carriage return. */
function createLineEnds(): {
  readonly add: (piece: Uint8Array) => void;
  readonly counts: () => Pick<FrameCounts, 'lineFeeds' | 'afterReturns'>;
} {
  let lineFeeds = 0;
  let afterReturns = 0;
  let last = -1;
  return {
    add(piece) {
      for (let at = piece.indexOf(LINE_FEED); at >= 0; at = piece.indexOf(LINE_FEED, at + 1)) {
        lineFeeds += 1;
        if ((at === 0 ? last : entryAt(piece, at - 1)) === CARRIAGE_RETURN) afterReturns += 1;
      }
      last = piece.at(-1) ?? last; // An empty piece changes nothing.
    },
    counts: () => ({ lineFeeds, afterReturns }),
  };
}

/**
 * Finds the frames in a recorded stream, whatever lies between them. After a check that fails the search goes on one byte
 * after the preamble, since a byte of other data may look like one. Holds one frame and one piece at most.
 * Reference: RTCM-10403, the frame.
 */
export function createFrameReader(onFrame: OnFrame): FrameReader {
  const foul = createFoulCount();
  let rest = new Uint8Array(0);
  let base = 0;
  let bytes = 0;
  let isCut = false;
  const ends = createLineEnds();
  const taken = createGoodCount();

  const take = (content: Uint8Array, offset: number, mark: number): void => {
    taken.add(content.length, offset, mark);
    foul.frameAt(offset);
    onFrame(content, offset);
  };

  /** Looks through what is there; gives back from where more bytes are needed. */
  function scan(window: Uint8Array, isLast: boolean): number {
    let i = window.indexOf(PREAMBLE);
    while (i >= 0) {
      const standing = standingAt(window, i);
      if (standing.kind === 'begun') {
        if (!isLast) return i;
        isCut ||= base + i === taken.end && taken.good > 0;
      }
      if (standing.kind === 'foul') foul.fail(base + standing.end);
      if (standing.kind === 'frame')
        take(window.subarray(i + HEAD_BYTES, standing.end - CHECK_BYTES), base + i, markOf(window, i, standing.end));
      i = window.indexOf(PREAMBLE, standing.kind === 'frame' ? standing.end : i + 1);
    }
    return window.length;
  }

  return {
    push(piece) {
      bytes += piece.length;
      ends.add(piece);
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
    counts: () => ({
      bytes,
      good: taken.good,
      failed: foul.failed,
      damaged: foul.damaged,
      bytesOutside: bytes - taken.inside,
      repeated: taken.repeated,
      ...ends.counts(),
      isCut,
    }),
  };
}
