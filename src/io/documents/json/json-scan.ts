import { Buffer } from 'node:buffer';
import { isKeptPlace, keepsDigits, nameOf } from './json-list.js';
import type { JsonFault } from './json-list.js';
import { createSpanList } from './json-spans.js';
import type { SpanList } from './json-spans.js';
import { createJsonWalker } from './json-walk.js';
import type { JsonVisitor } from './json-walk.js';

/** Of memory: an object or a list by itself, each of its members, a span. Measured on lists of empty objects, and on features of points. */
const BYTES_AN_OBJECT = 64;
const BYTES_A_MEMBER = 16;
const BYTES_A_SPAN = 8;
/** Of an object whose names have not begun. */
const NO_NAMES: ReadonlySet<string> = new Set<string>();

/** A long list that was found. */
export interface FoundList {
  readonly name: string;
  readonly spans: SpanList;
}

/** What was found of a document so far; its pieces are not kept, but for the frame: the document without the elements of its long lists. */
export interface JsonScan {
  readonly push: (piece: Buffer) => void;
  /** After the last piece. */
  readonly end: () => void;
  /** The first fault and the offset where it stands, in bytes. */
  readonly fault: () => { readonly kind: JsonFault['kind']; readonly key: string; readonly offset: number } | null;
  readonly lists: readonly FoundList[];
  /** Some number of an id or property in a list would not keep its digits. */
  readonly hasInexact: () => boolean;
  /** Bytes of memory needed so far, of the document's text the frame and the element in hand alone. */
  readonly needed: () => number;
  readonly frame: Frame;
  readonly weight: Weight;
}

/** What the visitor goes by. */
interface ScanState {
  readonly lists: FoundList[];
  readonly weight: Weight;
  readonly frame: Frame;
  /** Names met in each object around the place; null for a list. */
  readonly names: (ReadonlySet<string> | null)[];
  fault: { readonly kind: JsonFault['kind']; readonly key: string; readonly offset: number } | null;
  list: FoundList | null;
  isName: boolean;
  key: string;
  hasInexact: boolean;
}

/** Scans a document piece by piece. Given: names of its members that are long lists; most lists and objects in one another. */
export function createJsonScan(listNames: readonly string[], mostDepth: number): JsonScan {
  const state: ScanState = {
    lists: [],
    weight: createWeight(),
    frame: createFrame(),
    names: [],
    fault: null,
    list: null,
    isName: false,
    key: '',
    hasInexact: false,
  };
  const { lists, weight, frame } = state;
  const walker = createJsonWalker(scanVisitor(state, listNames, mostDepth), () => state.fault !== null);
  let pushed = 0;
  return {
    lists,
    frame,
    weight,
    push(piece) {
      frame.piece(piece);
      walker.push(piece);
      frame.endPiece();
      pushed += piece.length;
    },
    end() {
      walker.end();
      if (state.fault === null) closeList(state, pushed);
    },
    fault: () => state.fault,
    hasInexact: () => state.hasInexact,
    needed: () => frame.bytes() + weight.now() + (state.list === null ? 0 : pushed - state.list.spans.end()),
  };
}

function closeElement({ list, weight }: ScanState, end: number): void {
  if (list !== null) weight.closeElement(list.spans.add(end));
}

function closeList(state: ScanState, end: number): void {
  if (state.list === null) return;
  closeElement(state, end);
  state.lists.push(state.list);
  state.frame.resume(end);
  state.list = null;
}

function scanVisitor(state: ScanState, listNames: readonly string[], mostDepth: number): JsonVisitor {
  const { weight, frame, names } = state;
  return {
    open(start, isObject) {
      weight.add(BYTES_AN_OBJECT, state.list !== null);
      if (names.length === 1 && !isObject && names[0] !== null && listNames.includes(state.key)) {
        state.list = { name: state.key, spans: createSpanList(start + 1) };
        frame.leave(start + 1);
      }
      names.push(isObject ? NO_NAMES : null);
      state.isName = isObject;
      if (names.length > mostDepth) state.fault = { kind: 'deep', key: '', offset: start };
    },
    close(end) {
      if (names.length === 2) closeList(state, end);
      names.pop();
    },
    comma(end) {
      weight.add(BYTES_A_MEMBER, state.list !== null);
      state.isName = names.at(-1) !== null;
      if (names.length === 2) closeElement(state, end);
    },
    colon() {
      state.isName = false;
    },
    string(offset, _, text) {
      const open = names.at(-1);
      if (!state.isName || open === null || open === undefined) return;
      const key = nameOf(text());
      state.key = key;
      if (open.has(key)) state.fault = { kind: 'duplicate', key, offset };
      else if (key === 'crs') state.fault = { kind: 'crs', key, offset };
      else if (open === NO_NAMES) names[names.length - 1] = new Set([key]);
      else (open as Set<string>).add(key);
    },
    number(_, __, text) {
      if (state.list === null || state.hasInexact) return;
      if (isKeptPlace(names.length - 2, names.at(-1) !== null, state.key) && !keepsDigits(text()))
        state.hasInexact = true;
    },
  };
}

export interface Weight {
  readonly add: (bytes: number, isInList: boolean) => void;
  /** Given: the bytes of its text. */
  readonly closeElement: (bytes: number) => void;
  readonly total: () => number;
  /** Bytes of the largest element's text. */
  readonly largestText: () => number;
  /** With the element that is not closed. */
  readonly now: () => number;
}

/** What is held at once: the frame, the spans of all elements, and the largest of them. */
function createWeight(): Weight {
  let [frame, element, largest, largestText] = [0, 0, 0, 0];
  return {
    add(bytes, isInList) {
      if (isInList) element += bytes;
      else frame += bytes;
    },
    closeElement(bytes) {
      frame += BYTES_A_SPAN;
      largest = Math.max(largest, element);
      largestText = Math.max(largestText, bytes);
      element = 0;
    },
    total: () => frame + largest,
    largestText: () => largestText,
    now: () => frame + Math.max(largest, element),
  };
}

/** The document without its lists, put together from the pieces. */
export interface Frame {
  readonly piece: (bytes: Buffer) => void;
  readonly endPiece: () => void;
  /** What comes from this offset on belongs to a list, or to the frame again. */
  readonly leave: (offset: number) => void;
  readonly resume: (offset: number) => void;
  readonly bytes: () => number;
  readonly text: () => string;
}

function createFrame(): Frame {
  const kept: Buffer[] = [];
  let [bytes, base] = [0, 0];
  let current: Buffer = Buffer.alloc(0);
  /** Offset from which the document belongs to the frame; null within a list. */
  let from: number | null = 0;
  const take = (end: number): void => {
    if (from === null || end <= from) return;
    // A copy: the piece itself is let go.
    const part = Buffer.from(current.subarray(from - base, end - base));
    kept.push(part);
    bytes += part.length;
    from = end;
  };
  return {
    piece(piece) {
      current = piece;
    },
    endPiece() {
      take(base + current.length);
      base += current.length;
      current = Buffer.alloc(0);
    },
    leave(offset) {
      take(offset);
      from = null;
    },
    resume(offset) {
      from = offset;
    },
    bytes: () => bytes,
    text: () => Buffer.concat(kept).toString('utf8'),
  };
}
