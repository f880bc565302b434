import { Buffer } from 'node:buffer';

const QUOTE = 0x22,
  COMMA = 0x2c,
  MINUS = 0x2d,
  COLON = 0x3a,
  OPEN_LIST = 0x5b,
  BACKSLASH = 0x5c,
  CLOSE_LIST = 0x5d,
  OPEN = 0x7b,
  CLOSE = 0x7d;

/**
 * What is met in a text that may be JSON, in its order; `at` and `end` are offsets in bytes, `end` of what follows; `text` gives a
 * string with its quotes, or a number, as it stands, until the next is met.
 */
export interface JsonVisitor {
  readonly open: (at: number, isObject: boolean) => void;
  readonly close: (at: number) => void;
  readonly comma: (at: number) => void;
  readonly colon: () => void;
  readonly string: (at: number, end: number, text: () => string) => void;
  readonly number: (at: number, end: number, text: () => string) => void;
}

/** Walks a text that comes in pieces, cut anywhere. */
export interface JsonWalker {
  readonly push: (piece: Buffer) => void;
  readonly end: () => void;
}

/** A string or number whose end has not come yet. */
interface Begun {
  readonly isString: boolean;
  readonly at: number;
  readonly pieces: Buffer[];
}

/**
 * Walks UTF-8 by the marks of JSON, whether it is JSON or not, until its end or until `isStopped`. A string that does not
 * end is one up to the end. Source: RFC 8259 section 2.
 */
export function createJsonWalker(visit: JsonVisitor, isStopped: () => boolean): JsonWalker {
  const ends = createTokenEnds();
  const token = createToken();
  /** Bytes of the pieces before this one. */
  let base = 0;
  let begun: Begun | null = null;
  let isDone = false;

  /** Tells what began in an earlier piece, up to a place of this one. */
  function tellBegun(last: Buffer): void {
    if (begun === null) return;
    const { isString, at, pieces } = begun;
    begun = null;
    const bytes = Buffer.concat([...pieces, last]);
    token.within(bytes);
    token.at(0, bytes.length);
    visit[isString ? 'string' : 'number'](at, at + bytes.length, token.text);
    isDone = isStopped();
  }

  function walk(piece: Buffer, from: number): void {
    token.within(piece);
    for (let i = from; i < piece.length; i += 1) {
      const c = piece[i] as number;
      const isString = c === QUOTE;
      if (isString || c === MINUS || (c >= 0x30 && c <= 0x39)) {
        const end = isString ? ends.ofString(piece, i + 1) : ends.ofNumber(piece, i + 1);
        if (end < 0) {
          begun = { isString, at: base + i, pieces: [piece.subarray(i)] };
          return;
        }
        token.at(i, end);
        if (isString) visit.string(base + i, base + end, token.text);
        else visit.number(base + i, base + end, token.text);
        i = end - 1;
      } else if (c === COMMA) visit.comma(base + i);
      else if (c === OPEN || c === OPEN_LIST) visit.open(base + i, c === OPEN);
      else if (c === CLOSE || c === CLOSE_LIST) visit.close(base + i);
      else if (c === COLON) visit.colon();
      else continue;
      isDone = isStopped();
      if (isDone) return;
    }
  }

  return {
    push(piece) {
      if (isDone || piece.length === 0) return;
      let from = 0;
      if (begun !== null) {
        from = begun.isString ? ends.ofString(piece, 0) : ends.ofNumber(piece, 0);
        if (from < 0) begun.pieces.push(piece);
        else tellBegun(piece.subarray(0, from));
      }
      if (from >= 0 && !isDone) walk(piece, from);
      base += piece.length;
    },
    end() {
      if (!isDone) tellBegun(Buffer.alloc(0));
    },
  };
}

/** Finds where strings and numbers end, over pieces that follow each other. */
interface TokenEnds {
  /** After the closing quote; -1 where it is not among these bytes. */
  readonly ofString: (bytes: Buffer, from: number) => number;
  /** After the last sign that a number may have; -1 where it may go on after these bytes. */
  readonly ofNumber: (bytes: Buffer, from: number) => number;
}

function createTokenEnds(): TokenEnds {
  /** The last byte of the piece before is a backslash that escapes the first of the next. */
  let isEscaped = false;
  return {
    ofString(bytes, from) {
      let i = isEscaped ? from + 1 : from;
      isEscaped = false;
      for (; i < bytes.length; i += 1) {
        const c = bytes[i];
        if (c === QUOTE) return i + 1;
        if (c !== BACKSLASH) continue;
        i += 1;
        isEscaped = i === bytes.length;
      }
      return -1;
    },
    ofNumber(bytes, from) {
      for (let i = from; i < bytes.length; i += 1) {
        const c = bytes[i] as number;
        // Digits, point, signs, e and E.
        const isPart = (c >= 0x30 && c <= 0x39) || c === 0x2e || c === 0x2b || c === MINUS || c === 0x65 || c === 0x45;
        if (!isPart) return i;
      }
      return -1;
    },
  };
}

/** The string or number that was met last. */
interface Token {
  readonly within: (bytes: Buffer) => void;
  readonly at: (from: number, to: number) => void;
  readonly text: () => string;
}

/** Signs of which each is one byte. */
const ONE_BYTE_SIGNS = /^[\x20-\x7e]*$/u;

function createToken(): Token {
  let bytes: Buffer = Buffer.alloc(0);
  /** Each byte as a sign of its own: parts of it cost nothing. */
  let signs = '';
  let [from, to] = [0, 0];
  return {
    within(next) {
      bytes = next;
      signs = next.toString('latin1');
    },
    at(start, end) {
      from = start;
      to = end;
    },
    text() {
      const text = signs.slice(from, to);
      return ONE_BYTE_SIGNS.test(text) ? text : bytes.toString('utf8', from, to);
    },
  };
}
