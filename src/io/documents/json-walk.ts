const QUOTE = 0x22,
  COMMA = 0x2c,
  MINUS = 0x2d,
  COLON = 0x3a,
  OPEN_LIST = 0x5b,
  BACKSLASH = 0x5c,
  CLOSE_LIST = 0x5d,
  OPEN = 0x7b,
  CLOSE = 0x7d;

/** What is met in a text that may be JSON, in its order; `at` and `end` are offsets, `end` of what follows. */
export interface JsonVisitor {
  readonly open: (at: number, isObject: boolean) => void;
  readonly close: (at: number) => void;
  readonly comma: (at: number) => void;
  readonly colon: () => void;
  readonly string: (at: number, end: number) => void;
  readonly number: (at: number, end: number) => void;
}

/** Walks a text by its marks, whether it is JSON or not, until its end or until `isStopped`. Source: RFC 8259 section 2. */
export function walkJson(text: string, visit: JsonVisitor, isStopped: () => boolean): void {
  for (let i = 0; i < text.length; i += 1) {
    const c = text.charCodeAt(i);
    if (c === QUOTE) {
      const end = endOfString(text, i);
      visit.string(i, end);
      i = end - 1;
    } else if (c === COMMA) visit.comma(i);
    else if (c === OPEN || c === OPEN_LIST) visit.open(i, c === OPEN);
    else if (c === CLOSE || c === CLOSE_LIST) visit.close(i);
    else if (c === COLON) visit.colon();
    else if (c === MINUS || (c >= 0x30 && c <= 0x39)) {
      const end = endOfNumber(text, i);
      visit.number(i, end);
      i = end - 1;
    } else continue;
    if (isStopped()) return;
  }
}

/** After the closing quote; the end of the text where there is none. */
function endOfString(text: string, start: number): number {
  let at = text.indexOf('"', start + 1);
  while (at >= 0 && isEscaped(text, at)) at = text.indexOf('"', at + 1);
  return at < 0 ? text.length : at + 1;
}

function isEscaped(text: string, at: number): boolean {
  let before = at;
  while (text.charCodeAt(before - 1) === BACKSLASH) before -= 1;
  return (at - before) % 2 === 1;
}

function endOfNumber(text: string, start: number): number {
  let i = start + 1;
  for (; i < text.length; i += 1) {
    const c = text.charCodeAt(i);
    // Digits, point, signs, e and E.
    if (!((c >= 0x30 && c <= 0x39) || c === 0x2e || c === 0x2b || c === MINUS || c === 0x65 || c === 0x45)) break;
  }
  return i;
}
