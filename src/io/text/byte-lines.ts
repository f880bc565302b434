import { Buffer } from 'node:buffer';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';

/** A line of a text, without its end. */
export interface NumberedLine {
  readonly text: string;
  /** From 1. */
  readonly number: number;
}

/** A row of a grid of the world at half a minute takes half of it. */
const MAX_LINE_BYTES = 1 << 20;
const LF = 0x0a,
  CR = 0x0d,
  TAB = 0x09,
  SPACE = 0x20;

/**
 * The lines of a text in UTF-8, one at a time, so that a text of line ends takes no more memory than its bytes. Lines of blanks
 * are counted and left out. A byte order mark is no part of the first.
 *
 * Given: the bytes; lines end with LF, CR LF or CR.
 * Problems: grid-unreadable, with its number, for a line of more than `MAX_LINE_BYTES`; it is the last item.
 */
export function* byteLines(bytes: Uint8Array): Generator<Outcome<NumberedLine>> {
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let start = buffer.length >= 3 && buffer[0] === 0xef && buffer[1] === 0xbb && buffer[2] === 0xbf ? 3 : 0;
  let isBlank = true;
  let number = 1;
  for (let at = start; at <= buffer.length; at += 1) {
    const byte = at === buffer.length ? LF : (buffer[at] as number);
    if (byte !== LF && byte !== CR) {
      isBlank &&= byte === SPACE || byte === TAB;
      continue;
    }
    if (!isBlank) {
      if (at - start > MAX_LINE_BYTES) {
        yield failure({
          code: 'grid-unreadable',
          severity: 'error',
          message: 'a line is longer than 1 MiB',
          where: { line: number },
        });
        return;
      }
      yield success({ text: buffer.toString('utf8', start, at), number });
    }
    if (byte === CR && buffer[at + 1] === LF) at += 1;
    start = at + 1;
    isBlank = true;
    number += 1;
  }
}
