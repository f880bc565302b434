import { Buffer } from 'node:buffer';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { memoryRoomBytes } from '../bytes/memory-room.js';
import type { Source } from '../bytes/source.js';

/** Largest document that is read in one piece, where memory allows. */
export const MAX_DOCUMENT_BYTES: number = 500 * 1024 * 1024;

/** A document of points takes about three times its bytes while it is read; twice that leaves room for others. */
const MEMORY_A_BYTE = 6;

/** The whole of an input as text. Problems: those of the source; file-too-large, also where memory would not hold it. */
export async function wholeText(source: Source, maxBytes: number = largestDocument()): Promise<Outcome<string>> {
  const parts: Buffer[] = [];
  let total = 0;
  for await (const chunk of source.chunks()) {
    if (!chunk.ok) return chunk;
    total += chunk.value.length;
    if (total > maxBytes) {
      const message = `is larger than ${String(Math.floor(maxBytes / 1048576))} MiB, the most that is read in one piece here`;
      const hint =
        'split the document, write it as CSV, or raise the bound of memory with NODE_OPTIONS=--max-old-space-size=MIB';
      return failure(errorProblem('file-too-large', { message, where: { source: source.name }, hint }));
    }
    parts.push(chunk.value);
  }
  return success(Buffer.concat(parts).toString('utf8'));
}

function largestDocument(): number {
  return Math.min(MAX_DOCUMENT_BYTES, Math.floor(memoryRoomBytes() / MEMORY_A_BYTE));
}
