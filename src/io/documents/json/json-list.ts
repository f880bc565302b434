import { Buffer } from 'node:buffer';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { FileChanged, lineOfByte } from '../../bytes/held-bytes.js';
import type { HeldBytes } from '../../bytes/held-bytes.js';
import { jsonFaultPosition } from './json-fault-position.js';
import { pickSpans } from './json-spans.js';
import type { Spans } from './json-spans.js';
import { createJsonWalker } from './json-walk.js';

/** Why a document is refused, and where. */
export interface JsonFault {
  readonly kind: 'syntax' | 'duplicate' | 'crs' | 'deep' | 'changed';
  readonly line: number;
  /** The member's name; empty with `syntax` and `deep`. */
  readonly key: string;
}

/** A long list of a document, kept as its bytes: an element is unpacked when it is asked for. Where the document is a file, each of these may throw `FileChanged`, `each` says it. */
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

/**
 * A list of spans of a document.
 *
 * Given: the document; the spans, one for each element with the white space around it; how the bytes of one are unpacked, which may
 * throw; what is made of each.
 */
export function jsonList(
  held: HeldBytes,
  spans: Spans,
  unpack: (element: Buffer) => unknown,
  change: ((element: unknown) => unknown) | null = null,
): JsonList {
  const span = (index: number): Buffer => held.slice(spans.startOf(index), spans.endOf(index));
  const elementAt = (index: number): unknown => {
    const element = unpack(span(index));
    return change === null ? element : change(element);
  };
  return {
    count: spans.count,
    each(visit) {
      for (let index = 0; index < spans.count; index += 1) {
        let element: unknown;
        try {
          element = elementAt(index);
        } catch (error) {
          return error instanceof FileChanged ? CHANGED : faultOf(held, span(index), spans.startOf(index));
        }
        if (!visit(element, index)) return null;
      }
      return null;
    },
    slice: (from, to) =>
      Array.from({ length: Math.min(to, spans.count) - from }, (_, index) => elementAt(from + index)),
    textOf: (index) =>
      span(index)
        .toString('utf8')
        .split(/[\r\n]/u)
        .map((line) => line.trim())
        .filter((line) => line !== '')
        .join(' '),
    pick: (indexes) => jsonList(held, pickSpans(spans, indexes), unpack, change),
    map: (next) => jsonList(held, spans, unpack, change === null ? next : (element) => next(change(element))),
  };
}

/** The file is no longer the one whose elements were found. */
export const CHANGED: JsonFault = { kind: 'changed', key: '', line: 0 };

/** Where an element that was not unpacked is no JSON. */
function faultOf(held: HeldBytes, element: Buffer, start: number): JsonFault {
  return syntaxFault(held, start + faultByte(element.toString('utf8')));
}

/** Bytes before the place where a text stops being JSON. */
export function faultByte(text: string): number {
  // What the engine refuses and the grammar admits is placed at its beginning.
  return Buffer.byteLength(text.slice(0, jsonFaultPosition(text) ?? 0));
}

export function syntaxFault(held: HeldBytes, offset: number): JsonFault {
  return { kind: 'syntax', key: '', line: lineOfByte(held, offset) };
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
export function unpackExactly(element: Buffer): unknown {
  const text = element.toString('utf8');
  const part = (from: number, to?: number): string =>
    text.length === element.length ? text.slice(from, to) : element.toString('utf8', from, to);
  const kept: string[] = [];
  let written = 0;
  const isObjectAt: boolean[] = [];
  let isName = false;
  let key = '';
  const walker = createJsonWalker(
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
      string: (_, __, tokenText) => {
        if (isName && isObjectAt.length === FEATURE_DEPTH) key = nameOf(tokenText());
      },
      number: (at, end, tokenText) => {
        if (!isKeptPlace(isObjectAt.length, isObjectAt.at(-1) === true, key)) return;
        const digits = tokenText();
        if (keepsDigits(digits)) return;
        kept.push(part(written, at), `"${digits}"`);
        written = end;
      },
    },
    () => false,
  );
  walker.push(element);
  walker.end();
  const asWritten = JSON.parse(text) as unknown;
  if (written === 0) return asWritten;
  // A number that is none would have become a text that is one: the whole was read first.
  kept.push(part(written));
  return JSON.parse(kept.join(''));
}
