/** What a text in JSON would unpack to. */
export interface JsonSize {
  /** Of memory, about: measured on lists of empty objects, and on features of points. */
  readonly bytes: number;
  /** Lists and objects in one another. */
  readonly depth: number;
}

const QUOTE = 0x22,
  COMMA = 0x2c,
  OPEN_LIST = 0x5b,
  BACKSLASH = 0x5c,
  CLOSE_LIST = 0x5d,
  OPEN = 0x7b,
  CLOSE = 0x7d;
/** An object or a list by itself, and each of their members. */
const BYTES_AN_OBJECT = 64;
const BYTES_A_MEMBER = 16;

/** What a text that may be JSON would unpack to; found before it is, as `[{},{},…` takes thirty times its bytes. */
export function jsonSize(text: string): JsonSize {
  let objects = 0;
  let members = 0;
  let open = 0;
  let depth = 0;
  for (let at = 0; at < text.length; at += 1) {
    const c = text.charCodeAt(at);
    if (c === QUOTE) at = closingQuote(text, at);
    else if (c === COMMA) members += 1;
    else if (c === OPEN || c === OPEN_LIST) {
      objects += 1;
      open += 1;
      if (open > depth) depth = open;
    } else if (c === CLOSE || c === CLOSE_LIST) open -= 1;
  }
  return { bytes: text.length + BYTES_AN_OBJECT * objects + BYTES_A_MEMBER * members, depth };
}

/** The end of the text where a quote is not closed. */
function closingQuote(text: string, start: number): number {
  let at = text.indexOf('"', start + 1);
  while (at >= 0 && isEscaped(text, at)) at = text.indexOf('"', at + 1);
  return at < 0 ? text.length : at;
}

function isEscaped(text: string, at: number): boolean {
  let before = at;
  while (text.charCodeAt(before - 1) === BACKSLASH) before -= 1;
  return (at - before) % 2 === 1;
}
