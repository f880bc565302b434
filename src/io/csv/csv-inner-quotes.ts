import { Buffer } from 'node:buffer';
import { startsWith } from './csv-scan.js';

const QUOTE = 0x22;
const LF = 0x0a;
const CR = 0x0d;

/**
 * Records in which a quote inside an unquoted field is text, made such that the strict parser reads it
 * so: the field is put into quotes and its own are doubled. Line ends stay where they are.
 *
 * Given: bytes without comments; the delimiter. Returned: the same bytes where no field has such a quote.
 */
export function quoteInnerQuotes(bytes: Buffer, delimiter: Buffer): Buffer {
  const parts: Buffer[] = [];
  let written = 0;
  let at = 0;
  while (at < bytes.length) {
    const start = at;
    if (bytes[at] === QUOTE) {
      at = endOfQuoted(bytes, at, delimiter);
      continue;
    }
    let hasQuote = false;
    while (at < bytes.length && bytes[at] !== LF && bytes[at] !== CR && !startsWith(bytes, delimiter, at)) {
      if (bytes[at] === QUOTE) hasQuote = true;
      at += 1;
    }
    if (hasQuote) {
      const field = bytes.toString('utf8', start, at).replaceAll('"', '""');
      parts.push(bytes.subarray(written, start), Buffer.from(`"${field}"`, 'utf8'));
      written = at;
    }
    at += afterField(bytes, at, delimiter);
  }
  if (parts.length === 0) return bytes;
  parts.push(bytes.subarray(written));
  return Buffer.concat(parts);
}

/** Just after a field that opens with a quote, and what ends it: the same toggling as in `scanCsv`. */
function endOfQuoted(bytes: Buffer, start: number, delimiter: Buffer): number {
  let isOpen = false;
  let at = start;
  for (; at < bytes.length; at += 1) {
    if (bytes[at] === QUOTE) isOpen = !isOpen;
    else if (!isOpen && (bytes[at] === LF || bytes[at] === CR || startsWith(bytes, delimiter, at))) break;
  }
  return at + afterField(bytes, at, delimiter);
}

function afterField(bytes: Buffer, at: number, delimiter: Buffer): number {
  if (at >= bytes.length) return 0;
  return bytes[at] === LF || bytes[at] === CR ? 1 : delimiter.length;
}
