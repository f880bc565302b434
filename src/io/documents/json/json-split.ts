import { Buffer } from 'node:buffer';
import { bytesInMemory, FileChanged, lineOfByte } from '../../bytes/held-bytes.js';
import type { HeldBytes } from '../../bytes/held-bytes.js';
import { CHANGED, faultByte, jsonList, syntaxFault, unpackExactly } from './json-list.js';
import type { JsonFault, JsonList } from './json-list.js';
import { createJsonScan } from './json-scan.js';
import type { FoundList, JsonScan } from './json-scan.js';

/** A document without the elements of its long lists. */
export interface SplitJson {
  /** The document, those lists empty; undefined where more would be needed than was allowed. */
  readonly frame: unknown;
  readonly lists: ReadonlyMap<string, JsonList>;
  /** Of memory, about, that is needed to read it: of its bytes those that are held, the spans, and the largest element unpacked. */
  readonly bytes: number;
}

/** Takes a document piece by piece. */
export interface JsonSplitter {
  readonly push: (piece: Buffer) => void;
  /** After the last piece. Given: all of the bytes, held. */
  readonly finish: (held: HeldBytes) => SplitJson | { readonly fault: JsonFault };
}

/** Splits a text that is held in memory, as `createJsonSplitter` does. */
export function splitJson(
  text: string,
  listNames: readonly string[],
  mostDepth: number,
): SplitJson | { readonly fault: JsonFault } {
  const bytes = Buffer.from(text, 'utf8');
  const splitter = createJsonSplitter(listNames, mostDepth, Infinity);
  splitter.push(bytes);
  return splitter.finish(bytesInMemory(bytes));
}

/**
 * Splits a document into its frame and the elements of long lists among its own members, each checked when it is unpacked. What is
 * pushed is not kept, but for the frame.
 *
 * Given: the names of those members; most lists and objects in one another; most bytes of memory that frame, spans and one element may
 * take: beyond it the frame is undefined and `bytes` says how much it would be at least. Found: the parts; or the first fault: no JSON,
 * a member named twice in one object (a parser keeps the last and says nothing), a `crs` member wherever it stands, or too deep.
 * The numbers of an element's id and properties keep their digits: what would be written back otherwise (an integer beyond 2⁵³, `1.50`)
 * becomes a text of the very bytes.
 * Source: RFC 8259 sections 4 and 6; RFC 7946 section 4.
 */
export function createJsonSplitter(listNames: readonly string[], mostDepth: number, mostBytes: number): JsonSplitter {
  const scan = createJsonScan(listNames, mostDepth);
  return {
    push(piece) {
      if (scan.fault() === null && scan.needed() <= mostBytes) scan.push(piece);
    },
    finish(held) {
      if (scan.fault() === null && scan.needed() > mostBytes)
        return { frame: undefined, lists: new Map(), bytes: held.memoryBytes + scan.needed() };
      try {
        scan.end();
        return partsOf(scan, held);
      } catch (error) {
        if (error instanceof FileChanged) return { fault: CHANGED };
        throw error;
      }
    },
  };
}

/** The parts, as the bytes are held. Throws what `held` throws. */
function partsOf(scan: JsonScan, held: HeldBytes): SplitJson | { readonly fault: JsonFault } {
  const { lists, frame, weight } = scan;
  const fault = scan.fault();
  if (fault !== null) return { fault: { kind: fault.kind, key: fault.key, line: lineOfByte(held, fault.offset) } };
  const unpack = scan.hasInexact()
    ? unpackExactly
    : (element: Buffer): unknown => JSON.parse(element.toString('utf8')) as unknown;
  const split = new Map(lists.map(({ name, spans }) => [name, jsonList(held, spans.close(held), unpack)]));
  // What memory holds of the document is also what its largest element is cut from.
  const ofDocument = held.memoryBytes > 0 ? held.memoryBytes : frame.bytes() + weight.largestText();
  const frameText = frame.text();
  try {
    return { frame: JSON.parse(frameText) as unknown, lists: split, bytes: ofDocument + weight.total() };
  } catch {
    // An element that is no JSON may be why the frame is none, and says more nearly where.
    const inElement = [...split.values()].map((list) => list.each(() => true)).find((one) => one !== null);
    return { fault: inElement ?? syntaxFault(held, inDocument(faultByte(frameText), lists)) };
  }
}

/** An offset in the frame as one in the document. */
function inDocument(offset: number, lists: readonly FoundList[]): number {
  return lists.reduce((at, { spans }) => (at > spans.start ? at + spans.end() - spans.start : at), offset);
}
