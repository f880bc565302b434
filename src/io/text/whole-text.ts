import { Buffer } from 'node:buffer';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { largestDocument, tooLarge } from '../bytes/held-bytes.js';
import type { Source } from '../bytes/source.js';

/** The whole of an input as text. Problems: those of the source; file-too-large, also where memory would not hold it. */
export async function wholeText(source: Source, maxBytes: number = largestDocument()): Promise<Outcome<string>> {
  const parts: Buffer[] = [];
  let total = 0;
  for await (const chunk of source.chunks()) {
    if (!chunk.ok) return chunk;
    total += chunk.value.length;
    if (total > maxBytes) return failure(tooLarge(source.name, maxBytes));
    parts.push(chunk.value);
  }
  return success(Buffer.concat(parts).toString('utf8'));
}
