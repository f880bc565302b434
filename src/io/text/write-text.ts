import type { Buffer } from 'node:buffer';

const QUOTE = 0x22;
const LF = 0x0a;
const CR = 0x0d;

/** Text as UTF-8. Returned: the position after it. The caller sees to three bytes of room for each character. */
export function writeText(bytes: Buffer, at: number, text: string): number {
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code > 0x7f) return at + index + bytes.write(text.slice(index), at + index, 'utf8');
    bytes[at + index] = code;
  }
  return at + text.length;
}

/** True where a cell needs quotes in a table with this delimiter (RFC 4180): a quote, the delimiter or a line end in it. */
export function needsQuotes(text: string, delimiterCode: number): boolean {
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code === QUOTE || code === delimiterCode || code === LF || code === CR) return true;
  }
  return false;
}
