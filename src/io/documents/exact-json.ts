import { parseDecimal } from '../../core/numeric/text/decimal-text.js';

/** Why a document is refused, and where. */
export interface JsonFault {
  readonly kind: 'syntax' | 'duplicate' | 'crs';
  readonly line: number;
  /** The member's name; empty with `syntax`. */
  readonly key: string;
}

/** Objects and lists around the members of a feature's properties: collection, features, feature, properties. */
const PROPERTIES_DEPTH = 4;
const FEATURE_DEPTH = 3;
/** Of an object whose names have not begun. */
const NO_NAMES = new Set<string>();

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
 * A GeoJSON document whose numbers in properties and ids keep their digits: one that would be written
 * back otherwise (an integer beyond 2^53, `1.50`) becomes a text of the very bytes.
 *
 * Given: the text. Returned: the value; or the first fault: no JSON, a member named twice in one object
 * (a parser keeps the last and says nothing), or a `crs` member, wherever it stands.
 * Source: RFC 8259 sections 4 and 6; RFC 7946 section 4.
 */
export function parseExactJson(text: string): { readonly value: unknown } | { readonly fault: JsonFault } {
  try {
    JSON.parse(text);
  } catch (error) {
    const position = parseDecimal(/position (\d+)/u.exec(error instanceof Error ? error.message : '')?.[1] ?? '');
    return { fault: { kind: 'syntax', key: '', line: lineAt(text, position ?? text.length) } };
  }
  const scanned = scan(text);
  return 'fault' in scanned ? scanned : { value: JSON.parse(scanned.exact) as unknown };
}

/** Walks a text that is known to be JSON. */
function scan(text: string): { readonly exact: string } | { readonly fault: JsonFault } {
  const kept: string[] = [];
  let written = 0;
  const names: (Set<string> | null)[] = [];
  let isName = false;
  let key = '';
  for (let i = 0; i < text.length; i += 1) {
    const c = text.charCodeAt(i);
    if (c === QUOTE) {
      const end = endOfString(text, i);
      const open = names.at(-1);
      if (isName && open !== null && open !== undefined) {
        key = nameOf(text.slice(i, end + 1));
        if (open.has(key)) return { fault: { kind: 'duplicate', key, line: lineAt(text, i) } };
        if (key === 'crs') return { fault: { kind: 'crs', key, line: lineAt(text, i) } };
        if (open === NO_NAMES) names[names.length - 1] = new Set([key]);
        else open.add(key);
      }
      i = end;
    } else if (c === OPEN) {
      names.push(NO_NAMES);
      isName = true;
    } else if (c === OPEN_LIST) {
      names.push(null);
      isName = false;
    } else if (c === CLOSE || c === CLOSE_LIST) {
      names.pop();
    } else if (c === COMMA) {
      isName = names.at(-1) !== null;
    } else if (c === COLON) {
      isName = false;
    } else if (c === MINUS || (c >= 0x30 && c <= 0x39)) {
      const end = endOfNumber(text, i);
      const isKept =
        names.at(-1) !== null &&
        (names.length === PROPERTIES_DEPTH || (names.length === FEATURE_DEPTH && key === 'id'));
      if (isKept) {
        const digits = text.slice(i, end);
        if (JSON.stringify(JSON.parse(digits)) !== digits) {
          kept.push(text.slice(written, i), `"${digits}"`);
          written = end;
        }
      }
      i = end - 1;
    }
  }
  if (written === 0) return { exact: text };
  kept.push(text.slice(written));
  return { exact: kept.join('') };
}

function endOfString(text: string, start: number): number {
  let i = start + 1;
  while (text.charCodeAt(i) !== QUOTE) i += text.charCodeAt(i) === BACKSLASH ? 2 : 1;
  return i;
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

function nameOf(quoted: string): string {
  return quoted.includes('\\') ? (JSON.parse(quoted) as string) : quoted.slice(1, -1);
}

function lineAt(text: string, position: number): number {
  let line = 1;
  for (let at = text.indexOf('\n'); at >= 0 && at < position; at = text.indexOf('\n', at + 1)) line += 1;
  return line;
}
