import { jsonFaultPosition } from './json-fault-position.js';
import { isKeptPlace, jsonList, keepsDigits, lineAt, nameOf, syntaxFault, unpackExactly } from './json-list.js';
import type { JsonFault, JsonList } from './json-list.js';
import { walkJson } from './json-walk.js';
import type { JsonVisitor } from './json-walk.js';

/** A document without the elements of its long lists. */
export interface SplitJson {
  /** The document, those lists empty. */
  readonly frame: unknown;
  readonly lists: ReadonlyMap<string, JsonList>;
  /** Of memory, about, that is needed to read it: its text, and the largest element unpacked. */
  readonly bytes: number;
}

/** Of memory: an object or a list by itself, each of its members, a span. Measured on lists of empty objects, and on features of points. */
const BYTES_AN_OBJECT = 64;
const BYTES_A_MEMBER = 16;
const BYTES_A_SPAN = 8;
/** Of an object whose names have not begun. */
const NO_NAMES: ReadonlySet<string> = new Set<string>();

/**
 * Splits a document into its frame and the elements of long lists among its own members, each checked when it is unpacked.
 *
 * Given: a text; the names of those members; most lists and objects in one another. Returned: the parts; or the first fault: no JSON,
 * a member named twice in one object (a parser keeps the last and says nothing), a `crs` member wherever it stands, or too deep.
 * The numbers of an element's id and properties keep their digits: what would be written back otherwise (an integer beyond 2⁵³, `1.50`)
 * becomes a text of the very bytes.
 * Source: RFC 8259 sections 4 and 6; RFC 7946 section 4.
 */
export function splitJson(
  text: string,
  listNames: readonly string[],
  mostDepth: number,
): SplitJson | { readonly fault: JsonFault } {
  const { fault, lists, weight } = scan(text, listNames, mostDepth);
  if (fault !== null) return { fault };
  const split = new Map(
    lists.map(({ name, spans, hasInexact }) => [
      name,
      jsonList(text, spans, hasInexact ? unpackExactly : (element) => JSON.parse(element) as unknown),
    ]),
  );
  let frameText = '';
  let from = 0;
  for (const { start, end } of lists) {
    frameText += text.slice(from, start);
    from = end;
  }
  frameText += text.slice(from);
  try {
    return { frame: JSON.parse(frameText) as unknown, lists: split, bytes: text.length + weight };
  } catch {
    // An element that is no JSON may be why the frame is none, and says more nearly where.
    const inElement = [...split.values()].map((list) => list.each(() => true)).find((one) => one !== null);
    // What the engine refuses and the grammar admits is placed at its beginning.
    return { fault: inElement ?? syntaxFault(text, inText(jsonFaultPosition(frameText) ?? 0, lists)) };
  }
}

/** A position in the frame as one in the text. */
function inText(position: number, lists: readonly FoundList[]): number {
  return lists.reduce((at, { start, end }) => (at > start ? at + end - start : at), position);
}

interface FoundList {
  readonly name: string;
  /** After its opening bracket, and at its closing one. */
  readonly start: number;
  readonly end: number;
  readonly spans: { readonly starts: Uint32Array; readonly ends: Uint32Array };
  /** Some number of an id or property would not keep its digits. */
  readonly hasInexact: boolean;
}

interface Scan {
  readonly fault: JsonFault | null;
  readonly lists: readonly FoundList[];
  readonly weight: number;
}

function scan(text: string, listNames: readonly string[], mostDepth: number): Scan {
  const lists: FoundList[] = [];
  const weight = createWeight();
  const names: (ReadonlySet<string> | null)[] = [];
  const at: { fault: JsonFault | null; list: OpenList | null; isName: boolean; key: string } = {
    fault: null,
    list: null,
    isName: false,
    key: '',
  };
  const closeElement = (end: number): void => {
    at.list?.add(end);
    weight.closeElement();
  };
  const closeList = (end: number): void => {
    if (at.list === null) return;
    closeElement(end);
    lists.push(at.list.close(text, end));
    at.list = null;
  };
  const visitor: JsonVisitor = {
    open(start, isObject) {
      weight.add(BYTES_AN_OBJECT, at.list !== null);
      if (names.length === 1 && !isObject && names[0] !== null && listNames.includes(at.key))
        at.list = openList(at.key, start + 1);
      names.push(isObject ? NO_NAMES : null);
      at.isName = isObject;
      if (names.length > mostDepth) at.fault = { kind: 'deep', key: '', line: lineAt(text, start) };
    },
    close(end) {
      if (names.length === 2) closeList(end);
      names.pop();
    },
    comma(end) {
      weight.add(BYTES_A_MEMBER, at.list !== null);
      at.isName = names.at(-1) !== null;
      if (at.list !== null && names.length === 2) closeElement(end);
    },
    colon() {
      at.isName = false;
    },
    string(start, end) {
      const open = names.at(-1);
      if (!at.isName || open === null || open === undefined) return;
      at.key = nameOf(text.slice(start, end));
      const kind = open.has(at.key) ? 'duplicate' : at.key === 'crs' ? 'crs' : null;
      if (kind !== null) at.fault = { kind, key: at.key, line: lineAt(text, start) };
      else if (open === NO_NAMES) names[names.length - 1] = new Set([at.key]);
      else (open as Set<string>).add(at.key);
    },
    number(start, end) {
      if (at.list === null || at.list.hasInexact) return;
      if (isKeptPlace(names.length - 2, names.at(-1) !== null, at.key) && !keepsDigits(text.slice(start, end)))
        at.list.hasInexact = true;
    },
  };
  walkJson(text, visitor, () => at.fault !== null);
  if (at.fault === null) closeList(text.length);
  return { fault: at.fault, lists, weight: weight.total() };
}

interface Weight {
  readonly add: (bytes: number, isInList: boolean) => void;
  readonly closeElement: () => void;
  readonly total: () => number;
}

/** What is held at once: the frame, the spans of all elements, and the largest of them. */
function createWeight(): Weight {
  let [frame, element, largest] = [0, 0, 0];
  return {
    add(bytes, isInList) {
      if (isInList) element += bytes;
      else frame += bytes;
    },
    closeElement() {
      frame += BYTES_A_SPAN;
      largest = Math.max(largest, element);
      element = 0;
    },
    total: () => frame + largest,
  };
}

interface OpenList {
  hasInexact: boolean;
  /** An element ends before this place. */
  readonly add: (end: number) => void;
  readonly close: (text: string, end: number) => FoundList;
}

function openList(name: string, start: number): OpenList {
  let ends = new Uint32Array(1024);
  let count = 0;
  return {
    hasInexact: false,
    add(end) {
      if (count === ends.length) {
        const larger = new Uint32Array(2 * count);
        larger.set(ends);
        ends = larger;
      }
      ends[count] = end;
      count += 1;
    },
    close(text, end) {
      // Nothing but white space between the brackets is no element.
      const isEmpty = count === 1 && text.slice(start, end).trim() === '';
      const own = ends.slice(0, isEmpty ? 0 : count);
      const starts = own.map((_, index) => (index === 0 ? start : (own[index - 1] as number) + 1));
      return { name, start, end, spans: { starts, ends: own }, hasInexact: this.hasInexact };
    },
  };
}
