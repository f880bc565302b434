import { parseDecimal } from '../../numeric/text/decimal-text.js';

/** An element of well-known text: a keyword with its values, `UNIT["metre",1]`. */
export interface WktNode {
  readonly keyword: string;
  readonly texts: readonly string[];
  readonly numbers: readonly number[];
  readonly nodes: readonly WktNode[];
}

/** Deeper than any system of coordinates is. */
const MOST_LEVELS = 24;

/** Where a reading stands in its text. */
interface Cursor {
  readonly text: string;
  at: number;
}

interface OpenNode {
  readonly texts: string[];
  readonly numbers: number[];
  readonly nodes: WktNode[];
}

/**
 * Well-known text taken apart. Given: one element, with square or round brackets, blanks and line ends anywhere between its parts.
 * Returned: the element; null where the text is not one whole element, or nested beyond what a system needs.
 * Reference: OGC-18-010, clause 6; quotes inside a text are doubled.
 */
export function parseWkt(text: string): WktNode | null {
  const cursor = { text, at: 0 };
  skipBlanks(cursor);
  const keyword = readWord(cursor);
  skipBlanks(cursor);
  if (keyword === '' || !opens(cursor)) return null;
  const node = readElement(cursor, keyword, 0);
  skipBlanks(cursor);
  return cursor.at === text.length ? node : null;
}

const opens = ({ text, at }: Cursor): boolean => text[at] === '[' || text[at] === '(';

function skipBlanks(cursor: Cursor): void {
  while (cursor.at < cursor.text.length && cursor.text.charAt(cursor.at).trim() === '') cursor.at += 1;
}

function readWord(cursor: Cursor): string {
  const start = cursor.at;
  while (/[\w.+-]/u.test(cursor.text.charAt(cursor.at))) cursor.at += 1;
  return cursor.text.slice(start, cursor.at);
}

/** Null where no quote ends it. */
function readQuoted(cursor: Cursor): string | null {
  let found = '';
  for (cursor.at += 1; cursor.at < cursor.text.length; cursor.at += 1) {
    const letter = cursor.text.charAt(cursor.at);
    if (letter === '"' && cursor.text[cursor.at + 1] !== '"') {
      cursor.at += 1;
      return found;
    }
    if (letter === '"') cursor.at += 1;
    found += letter;
  }
  return null;
}

/** From its opening bracket to behind the closing one. */
function readElement(cursor: Cursor, keyword: string, level: number): WktNode | null {
  const close = cursor.text[cursor.at] === '[' ? ']' : ')';
  const own = { keyword: keyword.toUpperCase(), texts: [], numbers: [], nodes: [] };
  if (level > MOST_LEVELS) return null;
  do {
    cursor.at += 1;
    skipBlanks(cursor);
    if (!readValue(cursor, own, level)) return null;
    skipBlanks(cursor);
  } while (cursor.text[cursor.at] === ',');
  if (cursor.text[cursor.at] !== close) return null;
  cursor.at += 1;
  return own;
}

/** A quoted text, an element, a number or a word; false where there is none of them. */
function readValue(cursor: Cursor, into: OpenNode, level: number): boolean {
  if (cursor.text[cursor.at] === '"') {
    const found = readQuoted(cursor);
    if (found !== null) into.texts.push(found);
    return found !== null;
  }
  const found = readWord(cursor);
  skipBlanks(cursor);
  if (opens(cursor)) {
    const node = readElement(cursor, found, level + 1);
    if (node !== null) into.nodes.push(node);
    return node !== null;
  }
  const number = parseDecimal(found);
  if (number !== null) into.numbers.push(number);
  else into.texts.push(found);
  return found !== '';
}

/** The first element of a keyword among the values of another; null: none. */
export function wktChild(node: WktNode, ...keywords: readonly string[]): WktNode | null {
  return node.nodes.find(({ keyword }) => keywords.includes(keyword)) ?? null;
}

/** The number of an EPSG code that an element carries as its own; null: none. */
export function wktCode(node: WktNode): number | null {
  const id = node.nodes.find(({ keyword, texts }) => keyword === 'ID' && texts[0]?.toUpperCase() === 'EPSG');
  if (id === undefined) return null;
  const [number = null] = id.numbers;
  const [, text = null] = id.texts;
  return number ?? (text === null ? null : parseDecimal(text));
}
