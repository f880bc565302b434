import { jsonFaultPosition } from './json-fault-position.js';
import { parseDecimal } from '../../core/numeric/text/decimal-text.js';
import { walkJson } from './json-walk.js';

/** Why a document is refused, and where. */
export interface JsonFault {
  readonly kind: 'syntax' | 'duplicate' | 'crs' | 'deep';
  readonly line: number;
  /** The member's name; empty with `syntax` and `deep`. */
  readonly key: string;
}

/** A long list of a document, kept as text: an element is unpacked when it is asked for. */
export interface JsonList {
  readonly count: number;
  /** Unpacks one after another until `visit` says false; the first that is no JSON ends it. */
  readonly each: (visit: (element: unknown, index: number) => boolean) => JsonFault | null;
  /** Unpacked elements from one up to another, which `each` has seen. */
  readonly slice: (from: number, to: number) => readonly unknown[];
  /** An element in one line, its digits as they are written. */
  readonly textOf: (index: number) => string;
  /** Those of some indexes. */
  readonly pick: (indexes: readonly number[]) => JsonList;
  /** The same list, each element made into another. */
  readonly map: (change: (element: unknown) => unknown) => JsonList;
}

/** Where elements begin and end in the text. */
interface Spans {
  readonly starts: Uint32Array;
  readonly ends: Uint32Array;
}

/**
 * A list of spans of a text.
 *
 * Given: the text; the spans, one for each element with the white space around it; how the text of one is unpacked, which may throw;
 * what is made of each.
 */
export function jsonList(
  text: string,
  { starts, ends }: Spans,
  unpack: (element: string) => unknown,
  change: ((element: unknown) => unknown) | null = null,
): JsonList {
  const span = (index: number): string => text.slice(starts[index], ends[index]);
  const elementAt = (index: number): unknown => {
    const element = unpack(span(index));
    return change === null ? element : change(element);
  };
  return {
    count: starts.length,
    each(visit) {
      for (let index = 0; index < starts.length; index += 1) {
        let element: unknown;
        try {
          element = elementAt(index);
        } catch {
          const start = starts[index] as number;
          const end = ends[index] as number;
          // What the engine refuses and the grammar admits is placed at its beginning.
          return syntaxFault(text, start + (jsonFaultPosition(text.slice(start, end)) ?? 0));
        }
        if (!visit(element, index)) return null;
      }
      return null;
    },
    slice: (from, to) =>
      Array.from({ length: Math.min(to, starts.length) - from }, (_, index) => elementAt(from + index)),
    textOf: (index) =>
      span(index)
        .split(/[\r\n]/u)
        .map((line) => line.trim())
        .filter((line) => line !== '')
        .join(' '),
    pick: (indexes) =>
      jsonList(
        text,
        {
          starts: Uint32Array.from(indexes, (index) => starts[index] as number),
          ends: Uint32Array.from(indexes, (index) => ends[index] as number),
        },
        unpack,
        change,
      ),
    map: (next) =>
      jsonList(text, { starts, ends }, unpack, change === null ? next : (element) => next(change(element))),
  };
}

export function syntaxFault(text: string, position: number): JsonFault {
  return { kind: 'syntax', key: '', line: lineAt(text, position) };
}

export function lineAt(text: string, position: number): number {
  let line = 1;
  for (let at = text.indexOf('\n'); at >= 0 && at < position; at = text.indexOf('\n', at + 1)) line += 1;
  return line;
}

/**
 * Whether a number keeps its digits when it is read and written again; `1.50` and integers beyond 2⁵³ do not.
 */
export function keepsDigits(digits: string): boolean {
  return String(parseDecimal(digits)) === digits;
}

/** A name without its quotes; as it stands where it is no JSON. */
export function nameOf(quoted: string): string {
  if (!quoted.includes('\\')) return quoted.slice(1, -1);
  try {
    return JSON.parse(quoted) as string;
  } catch {
    return quoted;
  }
}

/** Objects around a feature's own members, and around those of its properties. */
const FEATURE_DEPTH = 1;
const PROPERTIES_DEPTH = 2;

/** Whether a number there belongs to an id or a property, whose digits are kept. Given: lists and objects around it within its element. */
export function isKeptPlace(depth: number, isInObject: boolean, key: string): boolean {
  return isInObject && (depth === PROPERTIES_DEPTH || (depth === FEATURE_DEPTH && key === 'id'));
}

/** An element unpacked, the numbers of its id and properties as texts of their bytes where they would not keep their digits. */
export function unpackExactly(element: string): unknown {
  const kept: string[] = [];
  let written = 0;
  const isObjectAt: boolean[] = [];
  let isName = false;
  let key = '';
  walkJson(
    element,
    {
      open: (_, isObject) => {
        isObjectAt.push(isObject);
        isName = isObject;
      },
      close: () => isObjectAt.pop(),
      comma: () => {
        isName = isObjectAt.at(-1) === true;
      },
      colon: () => {
        isName = false;
      },
      string: (at, end) => {
        if (isName && isObjectAt.length === FEATURE_DEPTH) key = nameOf(element.slice(at, end));
      },
      number: (at, end) => {
        if (!isKeptPlace(isObjectAt.length, isObjectAt.at(-1) === true, key)) return;
        const digits = element.slice(at, end);
        if (keepsDigits(digits)) return;
        kept.push(element.slice(written, at), `"${digits}"`);
        written = end;
      },
    },
    () => false,
  );
  if (written === 0) return JSON.parse(element);
  // A number that is none would become a text that is one.
  JSON.parse(element);
  kept.push(element.slice(written));
  return JSON.parse(kept.join(''));
}
