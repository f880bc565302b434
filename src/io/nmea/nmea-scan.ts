import { nmeaChecksum } from './nmea-checksum.js';

/** A sentence, or what is left of one, where it stands in the log. */
export interface FoundSentence {
  /** From `$` or `!` to the checksum; where there is none, to the last character that may belong to it. */
  readonly raw: string;
  /** From 1. */
  readonly line: number;
}

/** What a log holds beside sentences. */
export interface NmeaRest {
  /** Bytes that are neither sentence, tag block nor blank. */
  readonly bytes: number;
  /** Runs of such bytes without a sentence between them. */
  readonly places: number;
  /** Line on which the first of them begins; 0 where there is none. */
  readonly firstLine: number;
  /** Tag blocks of NMEA 0183 4.00 whose checksum holds. */
  readonly tagBlocks: number;
  /** Sentences found, whole or damaged. */
  readonly sentences: number;
}

/** Finds sentences in a stream of bytes of any kind. */
export interface NmeaScanner {
  /** The sentences of the next bytes, one character a byte. */
  readonly push: (text: string) => readonly FoundSentence[];
  /** Those of what is left, after the last bytes. */
  readonly end: () => readonly FoundSentence[];
  readonly rest: () => NmeaRest;
}

/** Longest sentence read. The standard allows 82 characters, from memory; high-precision positions and makers' own sentences pass that. */
const MAX_SENTENCE_CHARS = 1024;

/**
 * How a sentence, or a damaged one, begins: an address of five characters or more and a comma or an asterisk. In bytes
 * at random that is met once in 1.6 thousand million (256² × 256/26 × (256/36)⁴), and then its checksum must hold too.
 * A body is of printable characters without `$`, so that a sentence that was cut off hides none after it.
 */
const SENTENCE = new RegExp(
  String.raw`[$!][A-Z][A-Z0-9]{4,15}(?=[,*])[\x20-\x23\x25-\x29\x2b-\x7e]{0,${String(MAX_SENTENCE_CHARS)}}(?:\*[0-9A-Fa-f]{2})?`,
  'y',
);
/** A tag block: `\s:source,c:time*hh\`. Source: NMEA 0183 4.00, from memory. */
const TAG_BLOCK = new RegExp(
  String.raw`\\([\x20-\x29\x2b-\x5b\x5d-\x7e]{1,${String(MAX_SENTENCE_CHARS)}})\*([0-9A-Fa-f]{2})\\`,
  'y',
);
const START = /[$!\\]/g;
/** What ends a run that may be a sentence. */
const UNPRINTABLE_END = /[^\x20-\x7e][\x20-\x7e]*$/;

/**
 * A scanner that resynchronises at every `$` and `!`: binary frames between sentences, with dollars, line ends and bytes
 * of any value in them, are passed over and counted. Memory is bounded however long a run without line end is.
 * Source: NMEA 0183 sentence layout, from memory; the rule of what is a sentence is our own.
 */
export function createNmeaScanner(): NmeaScanner {
  let carried = '';
  let line = 1;
  let sentences = 0;
  let tagBlocks = 0;
  let bytes = 0;
  let places = 0;
  let firstLine = 0;
  let isInRest = false;
  let blanks = 0;

  /** Passes over what is no sentence. */
  function pass(text: string): void {
    const end = endWithoutBlanks(text);
    if (end > 0) {
      const start = isInRest ? 0 : blanksFrom(text);
      if (!isInRest) {
        isInRest = true;
        places += 1;
        if (firstLine === 0) firstLine = line + lineEnds(text.slice(0, start));
      }
      bytes += blanks + end - start;
      blanks = text.length - end;
    } else if (isInRest) blanks += text.length;
    line += lineEnds(text);
  }

  function scan(text: string): readonly FoundSentence[] {
    const found: FoundSentence[] = [];
    let done = 0;
    let at = nextStart(text, 0);
    while (at >= 0) {
      const match = matchAt(text.charAt(at) === '\\' ? TAG_BLOCK : SENTENCE, text, at);
      const isTag = match !== null && text.charAt(at) === '\\';
      if (match === null || (isTag && nmeaChecksum(match[1] ?? '') !== match[2]?.toUpperCase())) {
        at = nextStart(text, at + 1);
        continue;
      }
      pass(text.slice(done, at));
      isInRest = false;
      blanks = 0;
      done = at + match[0].length;
      if (isTag) tagBlocks += 1;
      else {
        sentences += 1;
        found.push({ raw: match[0].trimEnd(), line });
      }
      at = nextStart(text, done);
    }
    pass(text.slice(done));
    return found;
  }

  return {
    push(text) {
      const all = carried + text;
      const cut = cutAt(all);
      carried = all.slice(cut);
      return scan(all.slice(0, cut));
    },
    end() {
      const last = carried;
      carried = '';
      return scan(last);
    },
    rest: () => ({ bytes, places, firstLine, tagBlocks, sentences }),
  };
}

/** Up to where a text may be scanned before the next bytes are there: after its last character that no sentence holds. */
function cutAt(text: string): number {
  const tail = text.slice(-2 * MAX_SENTENCE_CHARS);
  const match = UNPRINTABLE_END.exec(tail);
  if (match !== null) return text.length - tail.length + match.index + 1;
  // Printable as far back as a sentence may reach: one that has begun is kept, the rest is let go.
  if (text.length <= 2 * MAX_SENTENCE_CHARS) return 0;
  const dollar = text.lastIndexOf('$');
  return dollar > text.length - MAX_SENTENCE_CHARS ? dollar : text.length;
}

function nextStart(text: string, from: number): number {
  START.lastIndex = from;
  return START.exec(text)?.index ?? -1;
}

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

function blanksFrom(text: string): number {
  let at = 0;
  while (at < text.length && isBlank(text.charCodeAt(at))) at += 1;
  return at;
}

function endWithoutBlanks(text: string): number {
  let end = text.length;
  while (end > 0 && isBlank(text.charCodeAt(end - 1))) end -= 1;
  return end;
}

function isBlank(code: number): boolean {
  return code === 0x20 || code === 0x09 || code === 0x0a || code === 0x0d;
}

function lineEnds(text: string): number {
  let count = 0;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) count += 1;
  return count;
}
